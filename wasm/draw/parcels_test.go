package draw

import (
	"math"
	"strings"
	"testing"
)

var (
	tags = Parcels{Points: []Parcel{{"a", 2, 35, 7980, true, false}, {"b", 2, 4, 8200, true, true}, {"c", 3, 2, 8815, false, false}},
		Planned: Parcel{"planned", 3, 4, 9420, false, false}, Format: cents}
	stair = Scores{Points: []Score{{"c", 24, 12100, true, false}, {"b", 19, 9900, false, false}, {"a", 12, 8815, true, true}}, Format: cents}
)

// manyTags are more than one tier holds.
func manyTags() Parcels {
	p := Parcels{Format: cents}
	for i := range 12 {
		p.Points = append(p.Points, Parcel{string(rune('a' + i)), 1 + i/8, 30 - 2*i, int64(8000 + 37*i*i), i%2 == 0, i == 5})
	}
	return p
}

func TestOrderPicturesSayTheirNumbers(t *testing.T) {
	tests := []struct {
		name, svg string
		want      []string
	}{
		{"parcels", ParcelTags(tags), []string{">2 parcels<", ">3 parcels<", ">a  day 35<", ">79.80<", ">planned<", ">94.20<",
			"b: 2 parcels, day 4, 82.00, shown", "c: 3 parcels, day 2, 88.15 or less"}},
		{"a lead that nobody stated", ParcelTags(Parcels{Points: []Parcel{{"a", 1, -1, 500, true, true}}, Format: cents}), []string{">a  day not stated<", ">1 parcel<", ">5.00<"}},
		{"scores", ScoreStair(stair), []string{">c  24<", ">121.00<", "b: 19 points, 99.00 or less", "a: 12 points, 88.15, shown"}},
	}
	for _, tt := range tests {
		for _, want := range tt.want {
			if !strings.Contains(tt.svg, want) {
				t.Errorf("%s lacks %s\n%s", tt.name, want, tt.svg)
			}
		}
	}
}

// Tags of one tier lie beside each other, inside the picture and in the order
// of their costs, so that no two strings cross.
func TestTagsLieApart(t *testing.T) {
	for name, p := range map[string]Parcels{"few": tags, "many": manyTags()} {
		for _, row := range p.rows() {
			var all []tag
			for _, point := range row {
				all = append(all, p.tagOf(point))
			}
			tiers := hang(p.axis(), all)
			for i, a := range all {
				if a.x < 0 || a.x+a.w > width+1e-9 {
					t.Errorf("%s: tag %s from %.1f to %.1f", name, a.top, a.x, a.x+a.w)
				}
				if j := i + tiers; j < len(all) && all[j].x < a.x+a.w-1e-9 {
					t.Errorf("%s: tag %s lies on tag %s", name, a.top, all[j].top)
				}
			}
		}
	}
}

// The cheapest dot is at the left end, the dearest at the right, and one half
// as dear between them half way: 24 + (8700−7980)/(9420−7980)·272 = 160.
func TestTagAxis(t *testing.T) {
	a := tags.axis()
	for cost, want := range map[float64]float64{7980: 24, 9420: 296, 8700: 160} {
		if got := a.at(cost); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g at %g, want %g", cost, got, want)
		}
	}
}

// What is not proven, what is looked at and what was planned differ in shape.
func TestTagsDifferWithoutColor(t *testing.T) {
	draw := func(p Parcel, planned bool) string {
		c := &canvas{w: width}
		c.tag(tag{point: p, w: 60}, planned)
		return classes.ReplaceAllString(tints.ReplaceAllString(c.b.String(), ""), "")
	}
	seen := map[string]string{}
	for name, svg := range map[string]string{"proven": draw(Parcel{Proven: true}, false), "not proven": draw(Parcel{}, false),
		"shown": draw(Parcel{Proven: true, Shown: true}, false), "planned": draw(Parcel{}, true)} {
		if other, twice := seen[svg]; twice {
			t.Errorf("%s and %s are one shape", name, other)
		}
		seen[svg] = name
	}
}
