"""From a file or folder to rows of typed cells, each with its place."""
