"""Site → joined network of Boolean events."""
