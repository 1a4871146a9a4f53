package main

import (
	"bytes"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"undercoat/imaging/export"
)

func newMan() *cobra.Command {
	var dir string
	var replace bool
	cmd := &cobra.Command{
		Use:     "man -o DIR",
		Short:   "Write manual pages, one a verb",
		Long:    "Man writes manual pages for section 1, made from the same words as --help. With\nSOURCE_DATE_EPOCH in the environment they bear that date, in seconds since 1970.",
		Example: "  undercoat-cli man -o man",
		Args:    exactly(0, "no arguments besides its flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			pages, err := manualPages(cmd.Root(), pageDate())
			if err != nil {
				return err
			}
			_, err = export.WriteSet(dir, pages, replace)
			return err
		},
	}
	cmd.Flags().StringVarP(&dir, "output", "o", "", "the folder to write to; made if missing")
	cmd.Flags().BoolVar(&replace, "force", false, "replace pages that are there")
	return cmd
}

// pageDate is the date that pages bear.
func pageDate() time.Time {
	if s, err := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64); err == nil {
		return time.Unix(s, 0).UTC()
	}
	return time.Now()
}

// manualPages are the pages of a verb and of all below it.
func manualPages(cmd *cobra.Command, date time.Time) ([]export.Content, error) {
	var page bytes.Buffer
	cmd.DisableAutoGenTag = true
	head := &doc.GenManHeader{Section: "1", Source: "Undercoat", Manual: "Undercoat", Date: &date}
	if err := doc.GenMan(cmd, head, &page); err != nil {
		return nil, err
	}
	name := strings.ReplaceAll(cmd.CommandPath(), " ", "-") + ".1"
	pages := []export.Content{{Name: name, Write: func(w io.Writer) error {
		_, err := w.Write(page.Bytes())
		return err
	}}}
	for _, sub := range cmd.Commands() {
		if !sub.IsAvailableCommand() || sub.Name() == "help" {
			continue
		}
		more, err := manualPages(sub, date)
		if err != nil {
			return nil, err
		}
		pages = append(pages, more...)
	}
	return pages, nil
}
