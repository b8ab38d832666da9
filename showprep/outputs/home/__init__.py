"""What is handed to a phone at home."""
