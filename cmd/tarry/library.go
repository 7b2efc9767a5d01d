package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"tarry"
)

func (t *terminal) library() *cobra.Command {
	c := &cobra.Command{
		Use:   "library",
		Short: "The built-in circuits of Training Bay 7",
		Example: `  tarry library list
  tarry library show 8
  tarry library copy 8 lessons`,
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error { return t.listLibrary() },
	}
	c.AddCommand(&cobra.Command{
		Use: "list", Short: "List the built-in circuits", Args: exactly(),
		RunE: func(*cobra.Command, []string) error { return t.listLibrary() },
	}, &cobra.Command{
		Use: "show N", Short: "Print a built-in circuit, by number or name", Args: exactly("N"),
		ValidArgsFunction: libraryNames,
		RunE: func(_ *cobra.Command, args []string) error {
			e, err := tarry.LibraryFind(args[0])
			if err != nil {
				return err
			}
			_, err = t.out.Write(e.Text)
			return err
		},
	}, &cobra.Command{
		Use: "copy N DIR", Short: "Copy a built-in circuit into a folder, to work on it", Args: exactly("N", "DIR"),
		ValidArgsFunction: libraryNames,
		RunE:              func(_ *cobra.Command, args []string) error { return t.copyCircuit(args[0], args[1]) },
	})
	return c
}

func (t *terminal) listLibrary() error {
	list, err := tarry.Library()
	if err != nil {
		return err
	}
	for _, e := range list {
		fmt.Fprintf(t.out, "%3d  %-42s  %s\n", e.Number, e.Title, e.Name)
	}
	return nil
}

// copyCircuit never writes over a file that stands there.
func (t *terminal) copyCircuit(query, dir string) error {
	e, err := tarry.LibraryFind(query)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("cannot make the folder %s: %w", dir, bare(err))
	}
	name := filepath.Join(dir, e.Name+".tarry")
	if err := writeNew(name, e.Text); err != nil {
		return err
	}
	fmt.Fprintln(t.out, name)
	return nil
}

// libraryNames completes the numbers and titles of the built-in circuits.
func libraryNames(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveFilterDirs
	}
	list, err := tarry.Library()
	if err != nil {
		return nil, cobra.ShellCompDirectiveError
	}
	var names []string
	for _, e := range list {
		names = append(names, fmt.Sprintf("%d\t%s", e.Number, e.Title))
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}
