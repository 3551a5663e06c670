"""From what is typed to the body of a request."""
