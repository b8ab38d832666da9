"""The keeper's files read into a Season, every fault with its line."""
