"""Worksheets to stand beside the water with: the bath of a touch-up, the bags of a journey."""
