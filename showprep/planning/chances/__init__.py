"""How sure: wounds, specks that return, water."""
