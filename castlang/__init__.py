"""castlang: a plain-text language for one-off cast pieces, and its compiler."""
