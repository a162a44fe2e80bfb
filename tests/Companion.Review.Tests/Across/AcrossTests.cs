using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Text.Json;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Review.Across;
using Companion.TestKit;
using CsCheck;
using MathNet.Numerics.Statistics;

namespace Companion.Review.Tests.Across;

public sealed class AcrossTests
{
    // NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.2 Percentiles: twelve gauge readings, their 90th percentile. Certainty: recalled, the page was not at hand; the second opinion below agrees on the definition.
    [Fact]
    public void The_worked_example_of_the_handbook_comes_out()
    {
        ImmutableArray<decimal> gauge =
        [
            95.0610m, 95.0925m, 95.1065m, 95.1195m, 95.1442m, 95.1567m, 95.1591m, 95.1682m, 95.1772m, 95.1937m, 95.1959m, 95.1990m,
        ];
        Assert.Equal(95.1981m, Math.Round(Quartiles.At(gauge, 0.9m), 4));
    }

    [Fact]
    public void Quartiles_agree_with_a_second_opinion() => Gen.Int[0, 100_000].Array[1, 60].Sample(figures =>
    {
        var quartiles = Quartiles.Of(figures.Select(figure => (decimal)figure));
        var doubles = figures.Select(figure => (double)figure);
        return new[] { (0.25, quartiles.Lower), (0.5, quartiles.Median), (0.75, quartiles.Upper) }
            .All(one => Math.Abs(doubles.QuantileCustom(one.Item1, QuantileDefinition.R6) - (double)one.Item2) < 1e-6);
    });

    [Fact]
    public void A_step_takes_from_its_question_to_the_next_and_failures_stand_where_they_happened()
    {
        var opened = (JobOpened)new JobBench().Open().Log[0].Event;
        var facts = JobCount.Of(new("", "j"), RecordedJobs.Of(
            (0, opened),
            (1, new QuestionAsked(NeedKind.OpenPoint, "front")),
            (2, new SpeechHeard(new Personal("x"), null, false, "unsure", 300)),
            (4, new AnswerCorrected(2, By.Voice)),
            (8, new QuestionAsked(NeedKind.FitLock, "front")),
            (9, new StepRefused("front", By.Voice, 900, "No.", 0))))!;
        Assert.Equal(7000, facts.Steps.Single(step => step.Step == "Open point: front").Milliseconds);
        Assert.Equal([new VoiceCount("Fit lock: front", 0, 1, 0), new VoiceCount("Open point: front", 1, 0, 1)], facts.Voice.AsEnumerable());
    }

    // Went wrong: "Prove tester: inverter:before:Dc", and the way back told in the words of the way there.
    [Fact]
    public void A_step_is_called_by_the_words_of_its_sheet_and_by_no_id()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Claim(Phrase.WorkDone);
        bench.Until(NeedKind.PutBack);
        var names = JobCount.Of(new("", "j"), RecordedJobs.Of(bench))!.Steps.Select(step => step.Step).ToList();
        var sheet = bench.Sheet;
        var (place, point) = (sheet.TestPlaces[0], sheet.Points.First(each => each.Lockable));

        Assert.Contains($"Prove tester: {place.Name}, before the readings, DC", names);
        Assert.Contains($"Take reading: {place.Name}, {place.Pairs[0].Name}", names);
        Assert.Contains($"Remove lock: {point.Name}", names);
        Assert.Contains($"Close point: {point.Name}", names);
        Assert.DoesNotContain(names, name => name.Split(": ").Length > 2 || name.Split(':').Length > 2);
    }

    [Fact]
    public void Rehearsals_and_real_jobs_are_never_in_one_figure()
    {
        var real = Facts("a", DemoTime.Start);
        var jobs = new[] { real, real with { Rehearsal = true } };
        Assert.Equal([real], new JobFilter().Of(jobs).AsEnumerable());
        Assert.True(Assert.Single(new JobFilter(Rehearsals: true).Of(jobs)).Rehearsal);
    }

    [Fact]
    public void A_filter_takes_both_its_days_and_the_sheet_and_the_technician()
    {
        var day = DateOnly.FromDateTime(DemoTime.Start.DateTime);
        var jobs = new[] { Facts("a", DemoTime.Start.AddDays(-1)), Facts("b", DemoTime.Start), Facts("c", DemoTime.Start.AddDays(1)) };
        Assert.Equal(["b"], new JobFilter(day, day).Of(jobs).Select(job => job.Name.Chain));
        Assert.Equal(3, new JobFilter(Sheet: "van, edition 2", Technician: "crew-4").Of(jobs).Length);
        Assert.Empty(new JobFilter(Sheet: "van").Of(jobs));
        Assert.Empty(new JobFilter(Technician: "crew-5").Of(jobs));
    }

    // RFC 4180, section 2, rules 5 to 7; OWASP, CSV injection.
    [Theory]
    [InlineData("plain", "plain")]
    [InlineData("a,b", "\"a,b\"")]
    [InlineData("say \"no\"", "\"say \"\"no\"\"\"")]
    [InlineData("two\r\nlines", "\"two\r\nlines\"")]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+1", "'+1")]
    [InlineData("-1", "'-1")]
    [InlineData("@sum", "'@sum")]
    [InlineData("", "")]
    public void A_cell_is_quoted_where_it_must_be_and_never_a_formula(string text, string cell) => Assert.Equal(cell, AcrossExport.Cell(text));

    [Fact]
    public void Downloads_hold_a_line_for_each_job()
    {
        var jobs = new[] { Facts("=a", DemoTime.Start), Facts("b", DemoTime.Start) };
        var lines = AcrossExport.Csv(jobs).Split("\r\n");
        Assert.Equal(4, lines.Length);
        Assert.StartsWith(",'=a,real,", lines[1], StringComparison.Ordinal);
        Assert.Equal(["=a", "b"], AcrossExport.Ndjson(jobs).TrimEnd('\n').Split('\n').Select(line => JsonDocument.Parse(line).RootElement.GetProperty("job").GetString()));
    }

    [Fact]
    public async Task What_was_said_is_found_and_is_gone_once_it_was_erased()
    {
        var shelf = new Shelf();
        shelf.Add("a", "the front cover is bent");
        shelf.Add("b", "nothing at all");
        var library = new JobLibrary(shelf);
        Assert.Equal((2, 0), await CountsAsync(library, Timeout.InfiniteTimeSpan));
        Assert.Equal(2, shelf.Opened);

        var found = Assert.Single(library.Search("COVER bent", new JobFilter()));
        Assert.Equal(("a", 2L, true), (found.Job.Name.Chain, found.Sequence, found.Heard));
        shelf.Add("a", null);
        Assert.Empty(library.Search("cover", new JobFilter()));
        Assert.Equal((2, 0), await CountsAsync(library, Timeout.InfiniteTimeSpan));
        Assert.Empty(library.Search("cover", new JobFilter()));
        Assert.Equal(3, shelf.Opened);
    }

    [Fact]
    public async Task A_look_that_does_not_wait_says_how_far_the_reading_is()
    {
        var shelf = new Shelf { Gate = new SemaphoreSlim(0) };
        shelf.Add("a", "one");
        shelf.Add("b", "two");
        shelf.Add("c", "three");
        var library = new JobLibrary(shelf);
        Assert.Equal((0, 3), await CountsAsync(library, TimeSpan.Zero));
        shelf.Gate.Release();
        Until(() => library.Progress == (1, 3, 0));
        Assert.Equal((1, 2), await CountsAsync(library, TimeSpan.Zero));
        shelf.Gate.Release(2);
        Assert.Equal((3, 0), await CountsAsync(library, Timeout.InfiniteTimeSpan));
        Assert.Equal((3, 3, 0), library.Progress);
        Assert.Equal(3, shelf.Opened);
    }

    [Fact]
    public async Task A_text_that_was_erased_while_its_record_was_read_is_not_found()
    {
        var shelf = new Shelf { Gate = new SemaphoreSlim(0) };
        shelf.Add("a", "the front cover is bent");
        var library = new JobLibrary(shelf);
        await library.LookAsync(TimeSpan.Zero);
        Until(() => shelf.Opened == 1);
        shelf.Add("a", null);
        shelf.Gate.Release();
        Until(() => library.Progress.Read == 1);
        Assert.Empty(library.Search("cover", new JobFilter()));
        shelf.Gate.Release();
        Assert.Equal((1, 0), await CountsAsync(library, Timeout.InfiniteTimeSpan));
    }

    [Fact]
    public async Task A_record_that_cannot_be_read_is_named_and_keeps_no_other_from_being_read()
    {
        var shelf = new Shelf { Fails = "b" };
        shelf.Add("a", "one");
        shelf.Add("b", "two");
        shelf.Add("c", "three");
        var library = new JobLibrary(shelf);
        var view = await library.LookAsync(Timeout.InfiniteTimeSpan);
        Assert.Equal((2, 0), (view.Jobs.Length, view.Left));
        Assert.Equal(new Unreadable(new("", "b"), "The disk fails."), Assert.Single(view.Unreadable));

        // The page must not say that all are read, and a search does not try again.
        Assert.Equal((2, 3, 1), library.Progress);
        Assert.Single(library.Search("three", new JobFilter()));
        Assert.Equal(3, shelf.Opened);

        shelf.Fails = null;
        view = await library.LookAsync(Timeout.InfiniteTimeSpan);
        Assert.Equal((3, 0, 0), (view.Jobs.Length, view.Left, view.Unreadable.Length));
        Assert.Equal((3, 3, 0), library.Progress);
        Assert.Equal(4, shelf.Opened);
    }

    private static async Task<(int Jobs, int Left)> CountsAsync(JobLibrary library, TimeSpan patience)
    {
        var view = await library.LookAsync(patience);
        return (view.Jobs.Length, view.Left);
    }

    private static void Until(Func<bool> holds) => SpinWait.SpinUntil(holds);

    private static JobFacts Facts(string chain, DateTimeOffset opened) =>
        new(new("", chain), false, opened, 60, "crew-4", "van, edition 2") { Steps = [], Voice = [], Remarks = [] };

    private sealed class Shelf : IRecordSource
    {
        private readonly ConcurrentDictionary<RecordName, (int Stamp, RecordedJob Job)> jobs = [];
        private int stamps;
        private int opened;

        /// <summary>Lets a reader go on that has a record in its hands; null lets everybody.</summary>
        public SemaphoreSlim? Gate { get; init; }

        public string? Fails { get; set; }

        public int Opened => Volatile.Read(ref opened);

        public void Add(string chain, string? heard) => jobs[new("", chain)] = (++stamps, RecordedJobs.Of(
            (0, (JobOpened)new JobBench().Open().Log[0].Event), (1, new SpeechHeard(new Personal(heard), null, false, "unsure", 300))));

        public IReadOnlyList<RecordName> Names() => [.. jobs.Keys];

        public RecordedJob? Open(RecordName name)
        {
            var job = jobs[name].Job;
            Interlocked.Increment(ref opened);
            Gate?.Wait();
            return name.Chain == Fails ? throw new IOException("The disk fails.") : job;
        }

        public string StampOf(RecordName name) => $"{jobs[name].Stamp}";
    }
}
