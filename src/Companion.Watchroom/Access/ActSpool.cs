namespace Companion.Watchroom.Access;

/// <summary>
/// Security acts of the command line, kept until the service, which alone may write the journal, has written them to the audit chain: at
/// least once, never lost.
/// </summary>
internal sealed class ActSpool(string store)
{
    private readonly KeptFile<Act[]> file = new(Path.Combine(store, "acts.json"), []);

    /// <summary>Keeps an act; durable when this returns.</summary>
    public void Add(string type, string subject, DateTimeOffset at) =>
        file.Change(acts => (acts.Append(new Act(type, subject, at)).ToArray(), true));

    /// <summary>Writes what is kept to the audit chain, then forgets it.</summary>
    public async Task DrainAsync(Audit audit)
    {
        var acts = file.Read();
        foreach (var act in acts)
        {
            await audit.ActAsync(act.Type, new { by = "command line", at = act.At.ToString("O") }, ("subject", act.Subject)).ConfigureAwait(false);
        }

        if (acts.Length > 0 && audit.Fault is null)
        {
            file.Change(now => (now[acts.Length..], true));
        }
    }

    private sealed record Act(string Type, string Subject, DateTimeOffset At);
}
