"""What is wrong with a question, told: every sentence in both languages, each with its code."""
