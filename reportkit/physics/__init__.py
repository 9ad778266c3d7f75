"""Sun, glass and room: arrays and numbers in, arrays and frozen records out; no file, clock or job."""
