// Package proof writes certificates of verdicts and checks them with code of
// its own.
package proof
