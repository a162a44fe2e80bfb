using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Pages.Record;

namespace Companion.Review.Tests;

public sealed class RecordShelfTests
{
    private static readonly RecordName Name = new(string.Empty, "j");

    [Fact]
    public void A_record_that_is_looked_at_is_read_once()
    {
        var source = new Counted();
        var shelf = new RecordShelf(source, TimeProvider.System);

        Assert.Same(shelf.Find(Name)!.Line, shelf.Find(Name)!.Line);
        Assert.Equal(1, source.Opened);
    }

    [Fact]
    public void A_record_that_grew_or_of_which_a_text_was_erased_is_read_anew_at_once()
    {
        var source = new Counted();
        var shelf = new RecordShelf(source, TimeProvider.System);
        _ = shelf.Find(Name);
        source.Stamp = "erased";

        _ = shelf.Find(Name);

        Assert.Equal(2, source.Opened);
    }

    [Fact]
    public void Only_so_many_records_are_kept_and_what_is_not_there_is_not()
    {
        var source = new Counted();
        var shelf = new RecordShelf(source, TimeProvider.System);
        var names = Enumerable.Range(0, RecordShelf.Most + 1).Select(n => Name with { Chain = $"{n}" }).ToList();
        names.ForEach(name => shelf.Find(name));

        _ = shelf.Find(names[^1]);
        Assert.Equal(names.Count, source.Opened);
        _ = shelf.Find(names[0]);
        Assert.Equal(names.Count + 1, source.Opened);
        Assert.Null(shelf.Find(Name with { Chain = "none" }));
    }

    private sealed class Counted : IRecordSource
    {
        public int Opened { get; private set; }

        public string Stamp { get; set; } = "first";

        public IReadOnlyList<RecordName> Names() => [Name];

        public RecordedJob? Open(RecordName name)
        {
            Opened++;
            return name.Chain == "none" ? null : RecordedJobs.Of((0, new QuestionAsked(NeedKind.OpenPoint, "front")));
        }

        public string StampOf(RecordName name) => Stamp;
    }
}
