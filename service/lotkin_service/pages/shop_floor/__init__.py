"""Pages of goods-in and the stations."""
