"""An answer as plain JSON values, in the reader's language and units."""
