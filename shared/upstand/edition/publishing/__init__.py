"""Freezing editions, and what changed between two."""
