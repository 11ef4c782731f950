"""What goes out to be treated."""
