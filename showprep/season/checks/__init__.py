"""What is wrong in the keeper's files, each fault with its place."""
