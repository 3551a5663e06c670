"""Upstand: requirements and engine for reinforced liquid-applied roof flashing."""

__version__ = "0.1.0"
