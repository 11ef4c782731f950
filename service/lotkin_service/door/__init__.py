"""What happens to a request before and after it is answered."""
