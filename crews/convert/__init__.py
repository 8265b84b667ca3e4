"""Between rows of crews, days and prices and the values that the core reads; no query here."""
