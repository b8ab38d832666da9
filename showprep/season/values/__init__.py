"""Values as a keeper writes them: days, amounts with units, zones; and how amounts are printed."""
