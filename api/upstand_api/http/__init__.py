"""Requests and responses: bodies, problems, headers, links."""
