"""What answers the addresses of this app."""
