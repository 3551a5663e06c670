"""What a record of each kind may hold."""
