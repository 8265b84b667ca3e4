"""What people fill in about crews, weather and rents."""
