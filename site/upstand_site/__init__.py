"""The handbook: pages written as plain Markdown from the data and the engine, built by MkDocs."""
