// Package care holds the entries of everyday care: weights, meals, sheds,
// faeces and urates, notes and photos, with the commands that write them and
// the rules that a typed value must pass. The rules are pure; the commands join
// them with what the collection holds.
package care
