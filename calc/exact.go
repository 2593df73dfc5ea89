package calc

import "math/big"

// GobEncode keeps a length exactly. Gob, with GobDecode, is for one program that reads what it
// wrote itself; what others read is in a figure's JSON.
func (l Length) GobEncode() ([]byte, error) {
	if l.inches == nil {
		return nil, nil
	}
	return l.inches.GobEncode()
}

// GobDecode reads a length that GobEncode kept.
func (l *Length) GobDecode(kept []byte) error {
	if l.inches = nil; len(kept) == 0 {
		return nil
	}
	l.inches = new(big.Rat)
	return l.inches.GobDecode(kept)
}
