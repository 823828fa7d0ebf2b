"""Two covered boards sewn on with the sections; the sewing shows on the spine."""
