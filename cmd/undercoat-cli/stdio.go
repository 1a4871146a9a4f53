package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
)

// standard stands for standard input or output in place of a file's name.
const standard = "-"

// readFile reads a file that was named on the command line, or standard input.
func readFile(cmd *cobra.Command, path string) ([]byte, error) {
	if path != standard {
		return job.ReadBytes(path)
	}
	var data bytes.Buffer
	if _, err := data.ReadFrom(io.LimitReader(cmd.InOrStdin(), job.MaxFileBytes+1)); err != nil {
		return nil, fmt.Errorf("standard input cannot be read (%w): name a file", err)
	}
	switch {
	case data.Len() == 0:
		return nil, errors.New("standard input is empty: send a file into it, or name one")
	case data.Len() > job.MaxFileBytes:
		return nil, fmt.Errorf("standard input is over %d MiB: use a smaller file", job.MaxFileBytes>>20)
	}
	return data.Bytes(), nil
}

// readJob reads a job in the same way.
func readJob(cmd *cobra.Command, path string) (*job.Job, error) {
	if path != standard {
		return job.Read(path)
	}
	data, err := readFile(cmd, path)
	if err != nil {
		return nil, err
	}
	j, err := job.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("standard input: %w", err)
	}
	return j, nil
}

// writeFile writes a file that was named on the command line, or standard output.
func writeFile(cmd *cobra.Command, path string, force bool, data []byte) error {
	if path == standard {
		_, err := cmd.OutOrStdout().Write(data)
		return err
	}
	return export.WriteFile(path, force, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
