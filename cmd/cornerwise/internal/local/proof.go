package local

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"net/http"
	"strings"
)

// proofHeader is where the server proves that it knows the word.
const proofHeader = "Cornerwise-Proof"

// A claim is what one who asks sends with a request: a number used once, and a proof.
type claim struct{ nonce, proof string }

func newClaim(word, method, path string) claim {
	nonce := rand.Text()
	return claim{nonce, proof(word, "ask", nonce, method, path)}
}

func (c claim) put(r *http.Request) { r.Header.Set("Authorization", c.nonce+" "+c.proof) }

// claimOf is what came with a request, and whether it proves that its sender has the word.
func claimOf(r *http.Request, word string) (c claim, ok bool) {
	c.nonce, c.proof, _ = strings.Cut(r.Header.Get("Authorization"), " ")
	return c, alike(c.proof, proof(word, "ask", c.nonce, r.Method, r.URL.Path))
}

// answer is what proves to the asker that the server has the word.
func (c claim) answer(word string) string { return proof(word, "answer", c.nonce) }

// proof can be made only by who has the word, and does not give it away.
func proof(word string, of ...string) string {
	mac := hmac.New(sha256.New, []byte(word))
	mac.Write([]byte(strings.Join(of, "\n")))
	return hex.EncodeToString(mac.Sum(nil))
}

func alike(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }
