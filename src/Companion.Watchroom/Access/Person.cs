namespace Companion.Watchroom.Access;

/// <summary>Somebody who may sign in.</summary>
/// <param name="Name">The name that alerts are taken under.</param>
/// <param name="Role">What they may do.</param>
/// <param name="Hash">The password's hash.</param>
/// <param name="Stamp">Changes with the password and the role: sessions begun under another stamp have ended.</param>
internal sealed record Person(string Name, Role Role, string Hash, string Stamp);
