"""A fish for a show: what can be said, what stands against it, and the ways out."""
