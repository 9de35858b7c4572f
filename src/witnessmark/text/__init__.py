"""Text: a YAML text read with the place of every word, faults collected and told all at once, near words for slips of
the pen, and one writer whose bytes never change. It knows lines, columns and keys; it refuses to know what any word
means, so every scalar stays the text that was written."""
