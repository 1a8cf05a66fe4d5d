"""The statics: arrays in, records out; nothing here opens, draws or prints."""
