package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/plan"
	"lugworth/core/shop"
)

// before are the tasks that must be done before an option's: what it says it
// comes after, options by their task.
func (j *Job) before(o *plan.Option) []string {
	var out []string
	for _, name := range o.After {
		task := name
		for i := range j.Options {
			if j.Options[i].ID == name {
				task = j.Options[i].Task
			}
		}
		if task != o.Task && !slices.Contains(out, task) {
			out = append(out, task)
		}
	}
	return out
}

// drying reads how long must be waited behind an option: "24 h", "2 days".
func (d *decoder) drying(option, text string) int {
	if strings.TrimSpace(text) == "" {
		return 0
	}
	m, err := shop.ReadWait(text)
	if err != nil {
		d.problem(KindOption, option, "wait", text, err)
	}
	return m
}

// chance reads the chance that an option has to be done, in percent.
func (d *decoder) chance(option, text string) int {
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 99 {
		d.problem(KindOption, option, "chance", text, fmt.Errorf("%q is not a whole number of percent from 1 to 99", text))
		return 0
	}
	return n
}
