"""Recording: events, deliveries, travellers and plans.

The room is entered again from store/reading: what many events name is listed one by one while the
store looks it up, so that no second list of it is made.
"""
