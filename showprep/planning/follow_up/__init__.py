"""What changed, what is to do today, what to ask, and the season's end."""
