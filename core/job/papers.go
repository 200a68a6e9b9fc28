package job

import (
	"fmt"

	"lugworth/core/order"
)

// OrderFiles writes one CSV for each supplier of the set in force. They hold
// no id and no time: the same order gives the same bytes.
func (r *Result) OrderFiles() ([]File, []string, error) {
	var files []File
	var warnings []string
	for _, b := range r.Buy.Baskets {
		if len(b.Lines) == 0 {
			continue
		}
		data, more, err := order.Write(b, r.Job.Number, r.Books.ProfileOf(b.Supplier))
		if err != nil {
			return nil, nil, fmt.Errorf("order to %s: %w", b.Supplier, err)
		}
		files = append(files, File{Name: "order-" + b.Supplier + ".csv", Data: data})
		warnings = append(warnings, more...)
	}
	return files, warnings, nil
}

// ProfileOf returns how a supplier wants an order written.
func (b *Books) ProfileOf(supplier string) order.Profile {
	if p, ok := b.Profiles[supplier]; ok {
		return p
	}
	return order.DefaultProfile(supplier)
}
