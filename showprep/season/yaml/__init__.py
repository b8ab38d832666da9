"""YAML text as plain mappings, lists and values with their places."""
