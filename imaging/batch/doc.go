// Package batch prepares many orders from one table: a row an order, a folder an
// order, and a table of what came of them.
//
// Start with [ReadOrders] for the table and [Run] for the work. Run may be stopped
// or killed at any moment and begun again: an order whose folder already holds
// what its inputs call for is let alone, which is told by checksums of the inputs
// and of the files. Several processes, on several computers that share the folder,
// may work on one table at once: each order is claimed by a lock file while it is
// made, and the lock of a process that has ended is taken over. An order that
// fails stops no other. What an order's cells mean is the caller's to say; the
// same inputs must give the same bytes.
package batch
