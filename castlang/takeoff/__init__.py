"""How much: shapes, faces, layers, mixes, batches, coats, loads."""
