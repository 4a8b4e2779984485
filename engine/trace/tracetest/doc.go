// Package tracetest makes photos of boards whose outlines are known, for tests
// of the tracer. It shares no code with it: it has its own shapes, its own
// camera and its own light, and looks up for every pixel what the line of sight
// through it hits.
//
// Millimetres, x right, y away from the viewer, z up; the board's upper face is
// the plane z = 0 and the sheet lies on it.
package tracetest
