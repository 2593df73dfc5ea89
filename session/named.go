package session

import "context"

type nameKey struct{}

// Named is ctx with what is done in it told of a device by its name, in the history for ever. A
// context without one is that of the computer that serves.
func Named(ctx context.Context, device string) context.Context {
	return context.WithValue(ctx, nameKey{}, device)
}

func namedIn(ctx context.Context) string {
	name, _ := ctx.Value(nameKey{}).(string)
	return name
}
