"""The guided check: one page for each stage, around them stepper, figures, chart and reasons."""
