// Package collection is the kernel through which every change goes: it plans a
// command from a view, commits its writes in one transaction, keeps revisions
// and journal, undoes and redoes, and tells those who listen what changed.
package collection
