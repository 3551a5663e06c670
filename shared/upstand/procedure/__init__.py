"""The order of work and the cautions that it calls."""
