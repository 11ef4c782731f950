"""The tables of the plan: parts, places, resources, steps, people."""
