using Companion.Contracts;
using Companion.Journal;
using Companion.Journal.Crasher;

// Appends to a store as fast as it can and prints what was acknowledged, the moment it is: "append HASH", "erase HASH". To be killed
// meanwhile. With "hold" it only keeps the store open until its input ends.
const int LargeEvery = 7;
const int EraseEvery = 11;
const int HeadsEvery = 13;
await using var store = await JournalStore.OpenAsync(args[0], new StoreOptions(new SteadyClock()) { Kind = StoreKind.Rehearsal });
Say("open");
if (args is [_, "hold"])
{
    await Console.In.ReadToEndAsync();
    return;
}

for (var i = 0; ; i++)
{
    var batch = Enumerable.Repeat(Heard(i), 1 + (i % 3)).ToList();
    foreach (var entry in await store.AppendAsync(batch))
    {
        Say($"append {entry.Hash}");
        if (i % EraseEvery == 0 && entry.Sealed.Count > 0 && await store.EraseSealedAsync(entry.Chain, entry.Sequence))
        {
            Say($"erase {entry.Hash}");
        }
    }

    if (i % HeadsEvery == 0)
    {
        await store.RecordHeadsAsync();
    }
}

// Large entries fill LiteDB's log, so that kills meet checkpoints too.
static EntryDraft Heard(int i) => new(
    "job-crash",
    i % HeadsEvery == 0 ? "job.opened" : "speech.heard",
    SteadyClock.Start.AddSeconds(i),
    "boot-one",
    i,
    $$"""{"accepted":true,"reason":"{{(i % LargeEvery == 3 ? new string('r', 400_000) : "")}}"}""",
    i % 5 == 0 ? new Dictionary<string, string> { ["text"] = $"phrase {i}" } : new Dictionary<string, string>());

static void Say(string line)
{
    Console.Out.WriteLine(line);
    Console.Out.Flush();
}
