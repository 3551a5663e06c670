"""A contractor's product sheets laid over an edition."""
