"""Plan files: written, fingerprinted, read again and held against their workbook."""
