package order

import (
	"slices"
	"strings"
	"testing"
)

func TestReadStock(t *testing.T) {
	got, problems := ReadStock("stock.csv", []byte("number;pieces;list\nK-1101;6;K\n'=2+2;1;R\nK-1101;2;K\n;3;K\nK-2;some;K\nK-3;-1;K\nK-4;1;\nK-5;0;K\n"))
	want := []Holding{{"K", "K-1101", 6}, {"R", "=2+2", 1}, {"K", "K-1101", 2}, {"K", "K-5", 0}}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	for i, say := range []string{`line 5, column "number"`, `line 6, column "pieces": "some"`, `line 7, column "pieces": "-1"`, `line 8, column "list"`} {
		if len(problems) != 4 || !strings.Contains(problems[i].Error(), say) {
			t.Fatalf("problems %v, want %q", problems, say)
		}
	}
	if _, problems := ReadStock("stock.csv", []byte("list,pieces\nK,1\n")); len(problems) != 1 {
		t.Errorf("no column for the number: %v", problems)
	}
}
