"""Values: quantities, moments, places, kinds, codes and their exact spelling."""
