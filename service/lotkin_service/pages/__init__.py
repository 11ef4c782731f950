"""Pages for people: the station, goods-in, quality, and keeping the service."""
