"""How are results shown? Drawings, charts and parts of pages, for lessons and write-ups."""
