"""The pure core: items, links, event rules, exposure and accounts; no database, clock or files."""
