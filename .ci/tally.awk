# Reads `go test -v` and prints what a reader wants of it: one line a package,
# the whole story of a package that failed, and at the end the names of what failed
# and one line of counts, which also goes to the file named by `counts`.
#
#     go test -v ./... 2>&1 | awk -v counts=counts.txt -f tally.awk
#
# Leaves with 1 when anything failed or nothing was tested.

/^=== PAUSE/ { mixed = 1 }
/^=== RUN +[^\/]*$/ { if (!mixed) kept = length(held) } # a test of its own begins
/^=== (RUN|PAUSE|CONT|NAME)/ { building = 0; next }

# What the compiler says comes ahead of its package's line, among other packages.
/^# / { building = 1 }

/^ *--- PASS: / {
	passed++
	# What a test that passed logged helps nobody; where tests run side by side
	# nothing tells whose it is.
	if (/^---/ && !mixed) held = substr(held, 1, kept)
	next
}
/^ *--- FAIL: / {
	failed++
	names = names "  " $3 "\n"
}
/^ *--- SKIP: / {
	skipped++
	skips = skips latest "\n" $0 "\n" # the reason is logged just before
}

# A package ends in one of these; what was held back belongs to it.
/^ok  ?\t/ {
	packages++
	print
	printf "%s", skips
	fflush()
	forget()
	next
}
/^\?  ? ?\t/ { forget(); next } # no test files
/^FAIL\t/ {
	packages++
	broken++
	printf "%s", held
	print
	fflush()
	told = told $2 "\n" names
	forget()
	next
}
/^(PASS|FAIL|coverage: .*)$/ { next }

building { print; next }

{ held = held $0 "\n"; latest = $0 }

function forget() { building = 0; mixed = 0; kept = 0; held = ""; skips = ""; names = ""; latest = "" }

END {
	printf "%s", held # go stopped before it came to a package
	if (told != "") printf "\nfailed:\n%s", told # the end of a long output is what people see
	line = sprintf("%d tests passed, %d failed, %d skipped; %d packages, %d of them failed", \
		passed, failed, skipped, packages, broken)
	print line
	if (counts != "") print line > counts
	exit (broken > 0 || packages == 0)
}
