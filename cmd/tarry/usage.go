package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// What is wrong with the command line itself, in words that say what to write.

func usage(c *cobra.Command, format string, args ...any) error {
	return fmt.Errorf(format+"; %s --help shows how it is used", append(args, c.CommandPath())...)
}

// exactly takes as many arguments as there are words, which name them.
func exactly(words ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < len(words):
			return usage(c, "%s is missing", strings.Join(words[len(args):], " and "))
		case len(args) > len(words) && len(words) == 0:
			return usage(c, "%q is too much", args[0])
		case len(args) > len(words):
			return usage(c, "%q is too much: one %s only, and what has spaces in it stands in quotes",
				args[len(words)], words[len(words)-1])
		}
		return nil
	}
}

func oneOrMore(word string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) == 0 {
			return usage(c, "%s is missing", word)
		}
		return nil
	}
}

// needs asks for flags, each given as "of SIGNAL". They are also marked as
// required, for the completion of command lines.
func needs(c *cobra.Command, flags ...string) {
	for _, f := range flags {
		name, _, _ := strings.Cut(f, " ")
		c.MarkFlagRequired(name)
	}
	c.PreRunE = func(c *cobra.Command, _ []string) error {
		for _, f := range flags {
			name, _, _ := strings.Cut(f, " ")
			if !c.Flags().Changed(name) {
				return usage(c, "--%s is missing", f)
			}
		}
		return nil
	}
}

// oneOf lets only one of some flags be given.
func oneOf(c *cobra.Command, flags ...string) {
	c.MarkFlagsMutuallyExclusive(flags...)
	c.PreRunE = func(c *cobra.Command, _ []string) error {
		var given []string
		for _, f := range flags {
			if c.Flags().Changed(f) {
				given = append(given, "--"+f)
			}
		}
		if len(given) > 1 {
			return usage(c, "%s: one of them only", strings.Join(given, " "))
		}
		return nil
	}
}

// flagError words a faulty flag.
func flagError(c *cobra.Command, err error) error {
	text, _, _ := strings.Cut(err.Error(), ": strconv.")
	return usage(c, "%s", text)
}

// strict makes the two commands that come with the command line library refuse
// what they do not know; left alone they print help and call it success.
func strict(root *cobra.Command) {
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		switch c.Name() {
		case "completion":
			c.Short = "Let the Tab key complete tarry's commands in your shell"
			c.Args = exactly()
			c.RunE = func(c *cobra.Command, _ []string) error { return c.Help() }
		case "help":
			c.Short = "Explain a command"
			c.Run = nil
			c.RunE = func(c *cobra.Command, args []string) error {
				about, _, err := root.Find(args)
				if err != nil {
					return usage(root, "there is no help for %q", strings.Join(args, " "))
				}
				about.InitDefaultHelpFlag()
				return about.Help()
			}
		}
	}
}
