"""Cited formulae of koi husbandry: numbers and dates in, numbers and dates out."""
