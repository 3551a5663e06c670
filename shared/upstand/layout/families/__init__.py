"""How the details of each family are laid out."""
