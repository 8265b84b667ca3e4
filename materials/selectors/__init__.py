"""Reading demand, suppliers and orders; what each page shows in one call."""
