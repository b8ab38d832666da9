"""The question put to selection, and its answer put back."""
