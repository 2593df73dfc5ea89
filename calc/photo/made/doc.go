// Package made makes photographs of fabrics whose repeats are known: for tests, and imported by
// nothing else. A Fabric is a print with its truth, a Shot a way to photograph it, a Picture the
// photo with what is true of it. All follow from seeds.
package made
