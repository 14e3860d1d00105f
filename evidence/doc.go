// Package evidence holds the models of this program against published
// measurements and prints how far off they are, beside the published formulas
// that compete with them on the same rows.
//
// It reads a folder of CSV files (Run): one file a data set, a line that begins
// with # is a comment, the first other line names the columns with their units.
// Any folder with files of the same names and columns will do, so that data
// nobody has trained on can be scored in the same way. Rows are run through the
// models as they are shipped; nothing is fitted here.
//
// Sets that were recalled from memory are reported and not gated: they say
// whether a model is plausible, not whether it is right.
package evidence
