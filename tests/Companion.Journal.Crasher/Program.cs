using Companion.Contracts;
using Companion.Journal;
using Companion.Journal.Crasher;

// Appends to a store as fast as it can and prints the hash of every entry the moment it is acknowledged, to be killed meanwhile.
// With "hold" it only keeps the store open until its input ends.
await using var store = await JournalStore.OpenAsync(args[0], new StoreOptions(new SteadyClock()) { Kind = StoreKind.Rehearsal });
Console.Out.WriteLine("open");
Console.Out.Flush();
if (args is [_, "hold"])
{
    await Console.In.ReadToEndAsync();
    return;
}

for (var i = 0; ; i++)
{
    var heard = new EntryDraft(
        "job-crash", "speech.heard", SteadyClock.Start.AddSeconds(i), "boot-one", i, """{"accepted":true,"reason":""}""",
        i % 5 == 0 ? new Dictionary<string, string> { ["text"] = $"phrase {i}" } : new Dictionary<string, string>());
    var batch = Enumerable.Repeat(heard, 1 + (i % 3)).ToList();
    foreach (var entry in await store.AppendAsync(batch))
    {
        Console.Out.WriteLine(entry.Hash);
    }

    Console.Out.Flush();
}
