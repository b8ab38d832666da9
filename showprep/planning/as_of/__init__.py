"""Files and journal together, as they stand on one day."""
