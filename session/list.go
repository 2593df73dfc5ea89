package session

import bolt "go.etcd.io/bbolt"

// List is up to limit heads, last touched first, after the session with id after
// ("" from the start); next is the after of the next page, "" at the end. binned
// lists the bin instead. A session touched between two pages moves to the front:
// it is not seen again, and the others keep their order. An after that is no
// session's is ErrNotFound.
func (s *Store) List(limit int, after string, binned bool) (heads []Head, next string, err error) {
	err = s.view("list the sessions in", func(tx *bolt.Tx) error {
		bucket := bucketRecent
		if binned {
			bucket = bucketBin
		}
		c := tx.Bucket(bucket).Cursor()
		key, _ := c.First()
		if after != "" {
			from, _, err := readHead(tx, after)
			if err != nil {
				return err
			}
			if key, _ = c.Seek(from.key()); key != nil && idOfKey(key) == after {
				key, _ = c.Next()
			}
		}
		for ; key != nil; key, _ = c.Next() {
			if len(heads) >= limit {
				if len(heads) > 0 {
					next = heads[len(heads)-1].ID
				}
				return nil
			}
			head, _, err := readHead(tx, idOfKey(key))
			if err != nil {
				return err
			}
			heads = append(heads, head)
		}
		return nil
	})
	if err != nil {
		return nil, "", err
	}
	return heads, next, nil
}
