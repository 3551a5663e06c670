"""The API's paths, one file each. Each file has a `resource`."""
