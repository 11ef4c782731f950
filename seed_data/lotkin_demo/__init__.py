"""The demo works: an invented shop plan, its scenario of events and its documents."""
