"""Quantities: closed units, traced numbers, how they are typed and how they are written."""
