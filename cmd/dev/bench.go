package main

import "context"

// runBench is the verb bench: the benchmarks of all packages, or of those named,
// and nothing beside; or a measurement of the real window.
func runBench(ctx context.Context, w *workshop, args []string) error {
	if len(args) == 1 {
		switch args[0] {
		case "hover":
			return w.onScreen(ctx, benchHover)
		case "start":
			return w.onScreen(ctx, benchStart)
		}
	}
	if len(args) == 0 {
		var err error
		if args, err = w.testedPackages(ctx); err != nil {
			return err
		}
	}
	return w.do(ctx, []string{"CGO_ENABLED=0"}, "go", append([]string{"test", "-run=^$", "-bench=.", "-benchmem"}, args...)...)
}
