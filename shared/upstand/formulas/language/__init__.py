"""The restricted Python that formulas are written in: its register, export and words."""
