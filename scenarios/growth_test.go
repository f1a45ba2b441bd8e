package scenarios

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/kernel"
)

// Sizes of the cases whose growth is looked at; the first of each is what the others are compared with.
var (
	grownParts     = []int{100, 200, 400, 800} // three steps each
	grownScenarios = []int{1, 2, 3, 6, 12}
	grownVolumes   = []int{10_000, 100_000, 1_000_000}
)

// largePlan compiles a case of the given number of parts, three steps each.
func largePlan(t testing.TB, parts int) *costmodel.Plan {
	t.Helper()
	return largeCase(t, parts)()[0]
}

// largeCase reads a case and returns what compiles it.
func largeCase(t testing.TB, parts int) (compile func() []*costmodel.Plan) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "case.xlsx")
	saveTables(t, largeTables(t, parts), path)
	m := modelOf(t, path)
	return func() []*costmodel.Plan { return compileAll(t, m) }
}

// scenarioPlans compiles the sample with a number of scenarios, of the same design so that each is as much work.
func scenarioPlans(t testing.TB, n int) []*costmodel.Plan {
	t.Helper()
	path := filepath.Join(t.TempDir(), "case.xlsx")
	designs := make([]string, n)
	for i := range designs {
		designs[i] = "A"
	}
	saveTables(t, sampleOf(t, designs), path)
	return compileAll(t, modelOf(t, path))
}

// BenchmarkGrowth prints what a unit of work takes when there are more of them, and how many times as long as in the
// smallest case, done again and again beside it until it is as many units: x-smallest is 1 where time grows in proportion.
func BenchmarkGrowth(b *testing.B) {
	grow(b, "operations", "ns/volume/step", grownParts, func(b *testing.B, parts int) (func(), int) {
		r := largePlan(b, parts).Runner()
		return func() { costBlock(r, 0) }, kernel.Lanes * 3 * parts
	})
	grow(b, "compiled-steps", "ns/step", grownParts, func(b *testing.B, parts int) (func(), int) {
		compile := largeCase(b, parts)
		return func() { compile() }, 3 * parts
	})
	grow(b, "scenarios", "ns/volume/scenario", grownScenarios, func(b *testing.B, n int) (func(), int) {
		return costScenarios(b, n, 1), blocksATurn * kernel.Lanes * n
	})
	grow(b, "scenarios-by-block", "ns/volume/scenario", grownScenarios, func(b *testing.B, n int) (func(), int) {
		return costScenarios(b, n, blocksATurn), blocksATurn * kernel.Lanes * n
	})
	r := samplePlan(b, sampleModel(b), "A").Runner()
	grow(b, "volumes", "ns/volume", grownVolumes, func(b *testing.B, to int) (func(), int) {
		return func() { costWhole(r, to) }, to
	})
}

// blocksATurn is the number of blocks that each scenario is costed at in a turn.
const blocksATurn = 8

// costScenarios costs scenarios one after the other, as a sweep does, or in several rounds with a part of the blocks in
// each. With one block a round, as cross-overs do it, every scenario finds its columns pushed out of the nearest cache.
func costScenarios(b *testing.B, n, rounds int) func() {
	var runners []*costmodel.Runner
	for _, p := range scenarioPlans(b, n) {
		runners = append(runners, p.Runner())
	}
	return func() {
		for range rounds {
			for _, r := range runners {
				for i := range blocksATurn / rounds {
					costBlock(r, i)
				}
			}
		}
	}
}

// grow benchmarks a growing case against its smallest size. Made makes the work of a size and says how many units it is.
func grow(b *testing.B, name, unit string, sizes []int, made func(b *testing.B, size int) (work func(), units int)) {
	for _, size := range sizes {
		b.Run(fmt.Sprintf("%s-x%d", name, size/sizes[0]), func(b *testing.B) {
			small, few := made(b, sizes[0])
			large, many := made(b, size)
			var p pairs
			for b.Loop() {
				p.measure(large, func() {
					for range many / few {
						small()
					}
				})
			}
			b.ReportMetric(0, "ns/op") // a turn of both says nothing
			b.ReportMetric(median(p.a)/float64(many), unit)
			b.ReportMetric(median(p.a)/median(p.b), "x-smallest")
		})
	}
}

var updateWork = flag.Bool("update-work", false, "rewrite testdata/counts")

// TestGrowth counts work instead of time: the operations per lane, which is what a volume of a scenario takes. They may
// not grow faster than steps or scenarios, and a change of any number is a change of speed; say why when the file is
// rewritten (-update-work).
func TestGrowth(t *testing.T) {
	const file = "../testdata/counts/growth.txt"
	var b strings.Builder
	b.WriteString("Operations per lane: kernel operations that one volume takes; each reads at most four columns.\n")
	smallest := 0
	for i, parts := range grownParts {
		n := largePlan(t, parts).Runner().Operations()
		fmt.Fprintf(&b, "%d operations, 1 scenario: %d operations per lane, %.3f an operation\n", 3*parts, n, float64(n)/float64(3*parts))
		if i == 0 {
			smallest = n
		}
		if n > smallest*parts/grownParts[0] {
			t.Errorf("%d operations take %d operations per lane, %d take %d: more than in proportion", 3*parts, n, 3*grownParts[0], smallest)
		}
	}
	for i, scenarios := range grownScenarios {
		n := 0
		for _, p := range scenarioPlans(t, scenarios) {
			n += p.Runner().Operations()
		}
		fmt.Fprintf(&b, "design A of the sample, x%d: %d operations per lane, %.3f a scenario\n", scenarios, n, float64(n)/float64(scenarios))
		if i == 0 {
			smallest = n
		}
		if n > smallest*scenarios {
			t.Errorf("%d scenarios take %d operations per lane, one takes %d: more than in proportion", scenarios, n, smallest)
		}
	}
	if *updateWork {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the work has changed:\n%swant\n%s", b.String(), want)
	}
}
