"""Goods-in: whether a delivery can be what is said of it."""
