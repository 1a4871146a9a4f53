// Package folders says where the program keeps what belongs to its user and not
// to a job: [Config] for what was chosen, [State] for what a crash would lose.
// On Linux these follow the XDG base directories and their environment variables,
// elsewhere the system's own custom. Nothing is made here; whoever writes makes
// the folder.
package folders
