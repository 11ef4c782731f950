"""Recording: events, deliveries, travellers and plans."""
