"""Reading crews, days, weather and costs; what each page shows in one call."""
