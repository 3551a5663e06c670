"""Schemas of what the API answers with: for its document; tests prove that answers conform."""
