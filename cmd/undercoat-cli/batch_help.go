package main

// batchHelp tells how tables are written and how the work is spread.
const batchHelp = `Batch prepares one order a row of a table into a folder of its own, DIR/ORDER, and writes
DIR/summary.csv. The table is a CSV file with commas or semicolons. Its first line names the
columns: "order", which names the folder; "copies", how many panels are to be burned; and any
option of the verb new without its dashes, such as picture, text, panel, border, stack,
machine, power, speed, pitch or passes. An empty cell is an option left out. Cells of text
and font may hold several lines. Files are named from the table's folder.

    order,picture,panel,border,stack,power,copies
    harbour,boat.jpg,12x16in,6mm,slate-cream,30,2
    pier,boat.jpg,200x300mm,6mm,,35,1

What was made from the same inputs and is still whole is let alone, so the same command again
does only what is new, changed, or was cut short. An order that fails stops no other: it is
named, and the exit code is 3, or 4 where files could not be written. Any number of processes
may work on one folder at a time, on several computers that share it. Each takes the orders
that no other is at, and waits for the rest.

Spread over the processors of one computer:

    seq $(undercoat-cli batch orders.csv --count) | xargs -P 4 -I{} undercoat-cli batch orders.csv -o orders --row {}
    seq $(undercoat-cli batch orders.csv --count) | parallel undercoat-cli batch orders.csv -o orders --row {}

A Slurm array, in a script for sbatch:

    #SBATCH --array=1-200
    undercoat-cli batch orders.csv -o orders --row "$SLURM_ARRAY_TASK_ID"

A Kubernetes job with completionMode: Indexed, whose containers share the folder:

    command: ["sh", "-c", "undercoat-cli batch orders.csv -o orders --row $((JOB_COMPLETION_INDEX + 1))"]

Afterwards the plain command names what failed and writes the summary:

    undercoat-cli batch orders.csv -o orders`
