using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.Journal;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;

namespace Companion.Tablet.Tests;

/// <summary>workshop resistance, as typed.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class WorkshopVerbTests : IDisposable
{
    private readonly string _folder = MemoryFolder.New("companion-workshop-");
    private readonly ShiftedClock _clock = new();
    private readonly StringWriter _output = new();

    private string Store => Path.Combine(_folder, "store");

    private string Said => _output.ToString();

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    // UN R100, annex on isolation resistance, published: the first of six rows computed from it.
    [Fact]
    public async Task It_prints_cautions_result_and_verdict()
    {
        await MakeStoreAsync();
        Assert.Equal(0, Run());
        Assert.StartsWith("Live work on a connected pack, in a workshop", Said, StringComparison.Ordinal);
        Assert.Contains("Second person: Della Frome.", Said, StringComparison.Ordinal);
        Assert.Contains("The known resistor belongs from the negative rail to chassis.", Said, StringComparison.Ordinal);
        Assert.Contains("Isolation resistance: 100000 ohm, the weaker leg, positive rail to chassis; 250 ohm per volt.", Said, StringComparison.Ordinal);
        Assert.Contains("DC system, at least 100 ohm per volt (UN R100 5.1.3): kept", Said, StringComparison.Ordinal);
        Assert.Contains("System with AC parts joined to it, at least 500 ohm per volt (UN R100 5.1.3): NOT kept.", Said, StringComparison.Ordinal);
        Assert.DoesNotContain("Caution.", Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_resistor_far_from_what_the_method_asks_is_a_caution()
    {
        await MakeStoreAsync();
        Assert.Equal(0, Run(("ro", "100000"), ("primed", "171.428571")));
        Assert.Contains("Caution. The known resistor of 100000 ohms is not within 20 percent", Said, StringComparison.Ordinal);
        Assert.Contains("Isolation resistance: 100000 ohm", Said, StringComparison.Ordinal); // computed: 100 k * 400 * (1/171.43 - 1/300)
    }

    [Theory]
    [InlineData("second-person", null, "Live work is not done alone.")]
    [InlineData("second-person", " ", "Live work is not done alone.")]
    [InlineData("vehicle-undamaged", null, "Say whether the vehicle is undamaged")]
    [InlineData("vehicle-undamaged", "no", "The pack of a damaged vehicle is not measured live.")]
    [InlineData("vehicle-undamaged", "Yes", "The pack of a damaged vehicle is not measured live.")]
    [InlineData("meter-mohm", "1", "disturbs what it measures")]
    [InlineData("primed", "0", "the voltage is zero")]
    [InlineData("v1", "250", "A probe was misplaced or missed contact")]
    public async Task What_must_not_be_measured_is_refused(string option, string? value, string reason)
    {
        await MakeStoreAsync();
        Assert.Equal(1, Run((option, value)));
        Assert.Contains("Refused. ", Said, StringComparison.Ordinal);
        Assert.Contains(reason, Said, StringComparison.Ordinal);
        Assert.DoesNotContain("ohm per volt.", Said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("v1", null)]
    [InlineData("v1", "-300")]
    [InlineData("ro", "200k")]
    [InlineData("primed", "218,2")]
    public async Task A_figure_that_is_missing_or_no_number_is_a_mistake_in_the_line(string option, string? value)
    {
        await MakeStoreAsync();
        Assert.Throws<UsageException>(() => Run((option, value)));
    }

    [Fact]
    public void A_store_that_is_named_and_not_there_is_a_mistake_in_the_line() => Assert.Throws<UsageException>(() => Run());

    [Fact]
    public async Task While_a_job_is_open_no_live_work_begins_and_the_store_is_left_as_it_is()
    {
        await using var store = await OpenAsync();
        await using var rig = await TabletRig.StartAsync(journal: store);
        await rig.OpenAsync();

        Assert.Equal(1, Run());

        Assert.Contains("is open in this store. End it first", Said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false, 29, 1)]
    [InlineData(false, 31, 0)] // the sheet's re-test time is 30 minutes
    [InlineData(true, 0, 0)]
    public async Task A_job_that_ended_with_clear_to_work_stands_against_it_until_that_has_lapsed(bool stopped, int minutes, int code)
    {
        await using var store = await OpenAsync();
        await using var rig = await TabletRig.StartAsync(journal: store);
        await rig.OpenAsync();
        await rig.UntilAsync(NeedKind.Working);
        if (stopped)
        {
            await rig.SayAsync(Phrase.Stop);
            await rig.UntilAsync(NeedKind.GoOn);
        }

        await rig.SayAsync(Phrase.HandOver, until: snapshot => snapshot.Job is { Ended: true });
        _clock.Forward(rig.Clock.Now().Boot - _clock.Now().Boot + Ticks.OfSeconds(minutes * 60L));

        Assert.Equal(code, Run());
        Assert.Equal(code == 1, Said.Contains("ended with clear to work", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_store_that_is_not_sound_cannot_tell_and_is_refused()
    {
        await MakeStoreAsync();
        var witness = Path.Combine(Store, "companion.witness");
        var bytes = File.ReadAllBytes(witness);
        bytes[bytes.Length / 2] ^= 1;
        File.WriteAllBytes(witness, bytes);

        Assert.Equal(1, Run());
        Assert.Contains("The record of this store is not sound", Said, StringComparison.Ordinal);
    }

    private int Run(params (string Name, string? Value)[] changes)
    {
        var options = new Dictionary<string, string?>
        {
            ["vb"] = "400", ["v1"] = "300", ["v2"] = "100", ["ro"] = "200000", ["primed"] = "218.181818", ["meter-mohm"] = "10",
            ["second-person"] = "Della Frome", ["vehicle-undamaged"] = "yes", ["store"] = Store,
        };
        foreach (var (name, value) in changes)
        {
            options[name] = value;
        }

        var arguments = options.Where(option => option.Value is not null).SelectMany(option => new[] { "--" + option.Key, option.Value! });
        return WorkshopVerb.Run(new Options(["resistance", .. arguments]), _output, _clock);
    }

    private Task<JournalStore> OpenAsync() => JournalStore.OpenAsync(Store, new StoreOptions(_clock) { Kind = StoreKind.Real });

    private async Task MakeStoreAsync() => await (await OpenAsync()).DisposeAsync();
}
