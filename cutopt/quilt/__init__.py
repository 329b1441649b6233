"""From a finished top or a recipe to wanted parts: pure arithmetic, every number with the line that made it."""
