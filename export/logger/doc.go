// Package logger reads the files that loggers of heat and humidity write: a line for
// each reading, in any order of columns. It reads a file once, as a stream and with
// bounded memory, keeps what each line says, and settles what is open (day or month
// first, Celsius or Fahrenheit, which clock) from the whole file, or by asking. It
// writes nothing.
package logger
