"""Goods-in at the command line."""
