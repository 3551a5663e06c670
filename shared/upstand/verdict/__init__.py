"""Go, hold or ask: limits compared, reasons gathered."""
