"""Worksheets on paper and as JSON."""
