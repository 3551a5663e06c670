"""The API's own description."""
