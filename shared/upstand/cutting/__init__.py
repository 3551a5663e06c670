"""Nesting pieces of fleece on rolls, cut from edge to edge."""
