"""Schemas of what the API is asked, for its document.

Questions are read by `upstand.query`, against the edition that is asked; a test holds the names of
the fields here and there together.
"""
