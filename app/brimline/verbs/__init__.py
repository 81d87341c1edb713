"""Words of the command line, a group a module; each module's ``add_verbs`` adds its own."""
