"""The nouns: frozen records in SI, from the vehicle to the answer."""
