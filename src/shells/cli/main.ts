/** Command line entry: says that no command exists yet. */
process.stderr.write("quietarc: no command is available in this version.\n");
process.exitCode = 2;
