"""Exact plane geometry in mm: paths of lines and true arcs, and what is measured on them. Knows nothing of boxes."""
