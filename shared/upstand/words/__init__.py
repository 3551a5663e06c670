"""Sentences with slots, in the reader's language."""
