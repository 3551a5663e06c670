"""The API's own pages."""
