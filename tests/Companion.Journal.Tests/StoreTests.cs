using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Tests.Support;

namespace Companion.Journal.Tests;

public sealed class StoreTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task The_first_entry_of_a_new_store_names_its_kind()
    {
        await using var store = await Open(StoreKind.Rehearsal);
        var first = Assert.Single(store.Read(Chains.Tablet));
        Assert.Equal("store.created", first.Type);
        Assert.Contains("\"kind\":\"rehearsal\"", first.Data);
        Assert.True(first.Rehearsal);
    }

    [Fact]
    public async Task What_was_appended_is_read_back_after_closing_and_opening()
    {
        IReadOnlyList<JournalEntry> appended;
        await using (var store = await Open())
        {
            appended = await store.AppendAsync([Drafts.Of("job-1", "job.opened"), Drafts.Heard("job-1", "gloves on")]);
        }

        await using var again = await Open();
        Assert.Empty(again.Findings);
        var read = again.Read("job-1");
        Assert.Equal(appended.Select(e => e.Hash), read.Select(e => e.Hash));
        Assert.Equal(appended.Select(e => e.Bytes.ToArray()), read.Select(e => e.Bytes.ToArray()));
        Assert.Equal("gloves on", read[1].Sealed["text"].Text);
        Assert.Equal([Chains.Tablet, "job-1"], again.ChainNames());
    }

    [Fact]
    public async Task A_store_of_the_other_kind_is_refused()
    {
        await using (await Open(StoreKind.Real))
        {
        }

        var refusal = await Assert.ThrowsAsync<StoreFaultException>(() => Open(StoreKind.Rehearsal));
        Assert.Contains("is a real store", refusal.Message);
    }

    [Fact]
    public async Task A_store_that_is_open_is_refused_to_a_second_opener()
    {
        await using var store = await Open();
        var refusal = await Assert.ThrowsAsync<StoreFaultException>(() => Open());
        Assert.Contains("already open", refusal.Message);
    }

    [Fact]
    public async Task A_store_can_be_opened_whatever_its_kind_when_none_is_asked_for()
    {
        await using (await Open(StoreKind.Rehearsal))
        {
        }

        await using var store = await JournalStore.OpenAsync(folder.Path, new StoreOptions(new FixedClock()));
        Assert.Equal(StoreKind.Rehearsal, store.Kind);
    }

    [Fact]
    public async Task Entries_survive_checkpoints()
    {
        await using (var store = await Open())
        {
            for (var i = 0; i < 300; i++)
            {
                await store.AppendAsync([Drafts.Of("job-1", "clock.anchored", """{"why":"tick"}""", i)]);
            }
        }

        await using var again = await Open();
        Assert.Empty(again.Findings);
        Assert.Equal(Enumerable.Range(1, 300).Select(i => (long)i), again.Read("job-1").Select(e => e.Sequence));
        Assert.Equal(290, again.Read("job-1", 290)[0].Sequence);
    }

    private Task<JournalStore> Open(StoreKind kind = StoreKind.Real) =>
        JournalStore.OpenAsync(folder.Path, new StoreOptions(new FixedClock()) { Kind = kind });
}
