package job_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/record"
)

// madeJob is a job whose filter place bears 480 V, with one option that fits
// 33 µF there, written as parts says.
func madeJob(t *testing.T, parts []fields, more ...fields) *job.Result {
	t.Helper()
	records := []fields{
		{"kind": "mains", "body": fields{"measured": "117", "low": "117", "high": "117"}},
		{"kind": "amp", "body": fields{"bias": "cathode"}},
		{"kind": "position", "body": fields{"id": "HT", "ref": "HT", "role": "high winding", "kind": "winding", "value": "340-0-340V"}},
		{"kind": "position", "body": fields{"id": "C2", "ref": "C2", "role": "smoothing", "kind": "electrolytic", "value": "30uF", "nodes": "plus=B1 minus=0"}},
		{"kind": "reading", "body": fields{"id": "r1", "at": "HT", "quantity": "rms volts", "value": fmt.Sprintf("%.12f", 480/math.Sqrt2), "unit": "V", "mains": "117", "state": "no-load", "meter_percent": "0"}},
		{"kind": "finding", "body": fields{"id": "F", "seen": "dry", "basis": "observed"}},
		{"kind": "option", "body": fields{"id": "T", "finding": "F", "low": "0", "mode": "0", "high": "0", "parts": parts}},
		{"kind": "set", "body": fields{"name": "all", "accept": []string{"T"}}},
		{"kind": "pick", "body": fields{"name": "all"}},
	}
	data, err := json.Marshal(fields{"format": 1, "records": append(records, more...)})
	if err != nil {
		t.Fatal(err)
	}
	f, err := record.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	books := job.OpenBooks(nil, []job.File{
		{Name: "shop.csv", Data: []byte("key,value,source\nname,Test,test\ncurrency,USD,test\nrate,0,test\nfee,0,test\nmarkup,0,test\ntax,0,test\ntax_on,parts,test\nallowance,0,test\nreserve,5,test\nmeter_percent,0,test\n")},
		{Name: "terms.csv", Data: []byte("list,currency,rate,tax_in_price,tax_not_reclaimed,decimal,pack_column,lead_column,min_order,carriage\nP,USD,1,no,0,.,,,,\n")},
		{Name: "lists/P.csv", Data: []byte("Number,Description,Value,Volts,Watts,Tolerance,Price\nE-68,Axial electrolytic,68uF,350,,20%,3.00\nR-220k,Metal oxide resistor,220k,,1,5%,0.20\n")},
	})
	return job.Derive(job.Read(f), books, "2026-01-05")
}

var made = []fields{
	{"qty": "2", "is": "electrolytic 33uF", "for": []string{"C2"}, "list": "P", "number": "E-68", "made": "2 in series, leak 0.1mA"},
	{"qty": "2", "is": "resistor 220k", "list": "P", "number": "R-220k", "across": "0"},
}

// Two pieces of 3.00 and two resistors of 0.20 are 6.40, on the bill as on
// the order; 288 V of 350 with 302.4 wanted is within, 0.397 of 1 W too.
func TestMadeOfSeveralIsBilledAndOrdered(t *testing.T) {
	r := madeJob(t, made)
	if len(r.Problems) > 0 {
		t.Fatal(r.Problems)
	}
	o := r.Options[0]
	if len(o.Lines) != 2 || len(o.Problems) > 0 || o.Refused != "" {
		t.Fatalf("%+v", o)
	}
	for i, want := range []struct {
		q     limit.Quantity
		worst float64
	}{{limit.DCVolts, 288}, {limit.Watts, 288 * 288 / 209e3}} {
		c := o.Lines[i].Chosen
		j, _ := c.Decides()
		if c.Kind != rating.Within || j.Quantity != want.q || math.Abs(j.Worst-want.worst) > 1e-6*want.worst { // the reading has twelve figures
			t.Errorf("line %d: %s %s %v, want within, %v of %s", i, c.Kind, j.Quantity, j.Worst, want.worst, want.q)
		}
	}
	bill := r.Sets[r.Force].Bill
	if got := r.Policy.Currency.Format(bill.Parts); got != "6.40" {
		t.Errorf("parts %s, want 6.40: %s", got, r.Sets[r.Force].Err)
	}
	pieces := map[string]int{}
	for _, b := range r.Buy.Baskets {
		for _, l := range b.Lines {
			pieces[l.Number] += l.Pieces
		}
	}
	if pieces["E-68"] != 2 || pieces["R-220k"] != 2 {
		t.Errorf("ordered: %v", pieces)
	}
}

// What does not count up keeps the option from being priced.
func TestMadeThatDoesNotCountUp(t *testing.T) {
	short := []fields{{"qty": "1", "is": "electrolytic 33uF", "for": []string{"C2"}, "made": "2 in series"}}
	r := madeJob(t, short)
	if said := fmt.Sprint(r.Problems); !strings.Contains(said, "takes 2 pieces, and 1 are written") || r.Sets[r.Force].Err == "" {
		t.Errorf("%s, priced: %q", said, r.Sets[r.Force].Err)
	}
	r = madeJob(t, []fields{{"qty": "1", "is": "electrolytic 33uF", "for": []string{"C2"}, "made": "2 in a row"}})
	if said := fmt.Sprint(r.Problems); !strings.Contains(said, "is not read") {
		t.Errorf("%s", said)
	}
}

// A question about two pieces is answered as two pieces; one that cannot be
// read says so.
func TestTrialMadeOfSeveral(t *testing.T) {
	one := []fields{{"qty": "1", "is": "electrolytic 33uF", "for": []string{"C2"}}}
	ask := func(text string) fields {
		return fields{"kind": "trial", "body": fields{"id": "x1", "option": "T", "part": "0", "text": text}}
	}
	r := madeJob(t, one, ask("2 x electrolytic 68uF 350V ±20% in series, leak 0.1mA + 2 x 220k 1W 5%"))
	var tried *plan.Candidate
	cs := r.Options[0].Lines[0].Candidates()
	for i := range cs {
		if cs[i].Offer.List == "trial" {
			tried = &cs[i]
		}
	}
	if tried == nil || tried.Kind != rating.Within || !strings.HasPrefix(tried.Offer.Text, "2 x electrolytic") {
		t.Errorf("%+v %v", tried, r.Problems)
	}
	// Some 200 V and more over 220 k are 0.2 W and more: an eighth of a watt is
	// over its rating, and without a rating nothing is known.
	for balance, want := range map[string]rating.Verdict{"220k 0.125W 5%": rating.OverWorsened, "220k 5%": rating.NotEnoughData} {
		r = madeJob(t, one, ask("2 x electrolytic 68uF 350V ±20% in series, leak 0.1mA + 2 x "+balance))
		asked := 0
		for _, c := range r.Options[0].Lines[0].Candidates() {
			if c.Offer.List != "trial" {
				continue
			}
			if asked++; c.Kind != want || c.Offered() != (want != rating.OverWorsened) {
				t.Errorf("balanced by %s: %v, offered %v", balance, c.Kind, c.Offered())
			}
		}
		if asked != 1 {
			t.Errorf("balanced by %s: %d answers, want 1", balance, asked)
		}
	}
	r = madeJob(t, one, ask("2 x electrolytic 68uF 350V in series + 3 x 220k 1W"))
	if said := fmt.Sprint(r.Problems); !strings.Contains(said, "one balancing resistor across each piece") {
		t.Errorf("%s", said)
	}
}

// A file with a part made of several is one the schema describes.
func TestSchemaTakesMade(t *testing.T) {
	s := schema(t)
	record := func(made any) any {
		return map[string]any{"format": 1, "records": []any{map[string]any{"kind": "option", "body": map[string]any{"id": "T", "parts": []any{
			map[string]any{"qty": "2", "is": "electrolytic 33uF", "for": []any{"C2"}, "made": made}, map[string]any{"qty": "2", "is": "resistor 220k", "across": "0"}}}}}}
	}
	for _, tt := range []struct {
		made any
		ok   bool
	}{{"2 in series", true}, {2, false}} {
		data, err := json.Marshal(record(tt.made))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(parse(t, data)); (err == nil) != tt.ok {
			t.Errorf("made %v: %v", tt.made, err)
		}
	}
}

// Two 150 Ω in series under the cathodes move the stage as 300 Ω do, and two
// in one place that nobody says how do not.
func TestCathodeResistorOfTwo(t *testing.T) {
	data, err := os.ReadFile(jobs + "drover.txtar")
	if err != nil {
		t.Fatal(err)
	}
	part := `"parts":[{"qty":"1","is":"wirewound 300R","for":["R20"],"list":"K","number":"K-1601"}]`
	row := "K-1601,Wirewound 5W,300R,,1.20,1,9,2\n"
	derive := func(parts string) *job.Result {
		t.Helper()
		text := strings.Replace(strings.Replace(string(data), part, parts, 1), row, row+"K-1602,Wirewound 5W 5%,150R,,0.80,1,9,2\n", 1)
		c, err := job.OpenCase("drover.txtar", []byte(text), nil)
		if err != nil || !strings.Contains(text, parts) || !strings.Contains(text, "K-1602") {
			t.Fatal(err)
		}
		j, b := c.Open(nil)
		return job.Derive(j, b, "2026-01-05")
	}
	after := func(r *job.Result) (out []float64) {
		for _, o := range r.Options {
			if o.Option.ID == "T6r" {
				for _, j := range o.Apart.After {
					out = append(out, j.Low, j.High)
				}
			}
		}
		return out
	}
	one := after(derive(part))
	two := after(derive(`"parts":[{"qty":"2","is":"wirewound 300R","for":["R20"],"list":"K","number":"K-1602","made":"2 in series"}]`))
	untold := after(derive(`"parts":[{"qty":"2","is":"wirewound 300R","for":["R20"],"list":"K","number":"K-1602"}]`))
	same := func(a, b []float64) bool {
		return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*math.Abs(x) }) // float noise only
	}
	if len(one) == 0 || !same(one, two) || same(one, untold) {
		t.Errorf("one %v\ntwo %v\nuntold %v", one, two, untold)
	}
}
