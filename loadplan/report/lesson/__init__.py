"""The trainer's set on pages: questions, answers, pictures, run sheet."""
