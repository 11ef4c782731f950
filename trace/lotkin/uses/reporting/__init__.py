"""What goes on paper and into spreadsheets."""
