package casefile
