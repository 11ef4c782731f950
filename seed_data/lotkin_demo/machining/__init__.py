"""Turning, milling, levers and the room where lots are measured."""
