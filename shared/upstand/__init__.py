"""Upstand: requirements and engine for reinforced liquid-applied roof flashing."""

__version__ = "0.1.0"
LANGUAGES = ("en", "es")
"""Of everything that is read by people; English governs."""
