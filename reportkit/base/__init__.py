"""What every row stands on: errors, units, sentences that can be translated."""
