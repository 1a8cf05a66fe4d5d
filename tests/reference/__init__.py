"""An independent judge of the statics: slow and plain code, written from the definitions, in mm, kg and N."""
