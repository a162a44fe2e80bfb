using Companion.Domain.Electrical;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Tests.Sheets;

namespace Companion.Domain.Tests.Equipment;

public sealed class KitRulesTests
{
    private static readonly DateOnly Today = new(2026, 11, 25);

    private static readonly KitItem Gloves = new()
    {
        Id = new("gloves"),
        Kind = KitKind.Gloves,
        Name = "gloves",
        Class = GloveClass.Find("0"),
        Tested = new(2026, 8, 3),
        FirstIssue = new(2026, 8, 10),
    };

    private static readonly KitItem Tester = new()
    {
        Id = new("tester"),
        Kind = KitKind.Tester,
        Name = "tester",
        ReadsToDc = Volts.Of(1000),
        ReadsToAc = Volts.Of(1000),
        LowestDc = Volts.Of(6),
        LowestAc = Volts.Of(6),
        Due = new(2027, 3, 2),
    };

    private static readonly KitItem Source = new()
    {
        Id = new("source"),
        Kind = KitKind.ProvingSource,
        Name = "source",
        Proves = [new(VoltageKind.Dc, Volts.Of(220), Volts.Of(260), Volts.Of(1000))],
        Due = new(2027, 4, 20),
    };

    // AC figure: IEC/EN 60903, published (00 as reported). DC column: 1.5 times AC, a maker's figure, as reported.
    [Theory]
    [InlineData(400, "00", true, true)]
    [InlineData(650, "00", false, true)]
    [InlineData(800, "00", false, false)]
    [InlineData(800, "0", true, true)]
    [InlineData(1200, "0", false, true)]
    [InlineData(500, "00", true, true)]
    [InlineData(501, "00", false, true)]
    public void Gloves_are_rated_for_the_vehicle_by_the_chosen_policy(int volts, string name, bool acFigure, bool dcColumn)
    {
        var gloves = Gloves with { Class = GloveClass.Find(name) };
        Assert.Equal(acFigure, Fault(gloves, volts) is null);
        Assert.Equal(dcColumn, KitRules.Fault(gloves, SampleSheet.Of(volts), Today, RatingPolicy.DcColumn) is null);
    }

    [Fact]
    public void A_refusal_says_what_is_wrong_and_what_to_take()
    {
        Assert.Equal(
            "gloves: class 00, rated 500 volts, and this vehicle holds up to 800 volts. Take class 0 or higher.",
            Fault(Gloves with { Class = GloveClass.Find("00") }, 800));
        Assert.Equal("gloves: no rating is recorded, and this vehicle holds up to 400 volts. Take one that is marked for it.", Fault(Gloves with { Class = null }));
    }

    [Theory]
    [InlineData("2026-05-25", "2026-05-25", "2026-11-25", true)]
    [InlineData("2026-05-25", "2026-05-25", "2026-11-26", false)]
    [InlineData("2026-08-31", "2026-08-31", "2027-02-28", true)]
    [InlineData("2026-08-31", "2026-08-31", "2027-03-01", false)]
    [InlineData("2025-11-20", null, "2026-11-20", true)]
    [InlineData("2025-11-20", null, "2026-11-25", false)]
    [InlineData("2025-11-20", "2026-11-25", "2026-11-25", false)]
    public void Gloves_are_refused_after_their_last_valid_day(string tested, string? issued, string today, bool accepted)
    {
        var gloves = Gloves with { Tested = DateOnly.Parse(tested), FirstIssue = issued is null ? null : DateOnly.Parse(issued) };
        var fault = KitRules.Fault(gloves, SampleSheet.Of(), DateOnly.Parse(today), RatingPolicy.AcFigure);
        Assert.Equal(accepted, fault is null); // 29 CFR 1910.137 Table I-5, published; last days computed
    }

    [Fact]
    public void The_refusal_of_old_gloves_names_the_test_and_the_last_day() =>
        Assert.Equal(
            "gloves: their test of 25 May 2026 held until 25 November 2026, in use they are tested every six months. Take a pair that is in date.",
            KitRules.Fault(Gloves with { Tested = new(2026, 5, 25), FirstIssue = new(2026, 5, 25) }, SampleSheet.Of(), new(2026, 11, 26), RatingPolicy.AcFigure));

    [Fact]
    public void Gloves_without_a_known_test_count_as_out_of_date() => Assert.Contains("no test date", Fault(Gloves with { Tested = null }));

    [Fact]
    public void A_label_can_shorten_the_time_but_not_lengthen_it()
    {
        Assert.Contains("ran out on 24 November 2026", Fault(Gloves with { Due = new(2026, 11, 24) }));
        Assert.Null(Fault(Gloves with { Due = new(2026, 11, 25) }));
        Assert.Contains("held until", Fault(Gloves with { Tested = new(2026, 1, 1), FirstIssue = new(2026, 1, 1), Due = new(2028, 1, 1) }));
    }

    [Fact]
    public void An_unset_clock_means_out_of_date()
    {
        Assert.Contains("date is not set", KitRules.Fault(Gloves, SampleSheet.Of(), new(1970, 1, 1), RatingPolicy.AcFigure));
        Assert.Contains("lies in the future", KitRules.Fault(Gloves, SampleSheet.Of(), new(2026, 8, 2), RatingPolicy.AcFigure));
    }

    [Theory]
    [InlineData(KitKind.Tester)]
    [InlineData(KitKind.ProvingSource)]
    public void A_tester_or_source_without_a_due_date_counts_as_out_of_date(KitKind kind) =>
        Assert.Contains("no due date", Fault((kind == KitKind.Tester ? Tester : Source) with { Due = null }));

    [Theory]
    [InlineData(600, true)]
    [InlineData(601, false)]
    [InlineData(800, false)]
    public void A_tester_that_reads_to_600_volts_is_refused_above(int highest, bool accepted) =>
        Assert.Equal(accepted, Fault(Tester with { ReadsToDc = Volts.Of(600) }, highest) is null); // common practice, no source

    [Fact]
    public void A_two_pole_tester_serves_to_the_end_of_its_scope_and_no_sheet_asks_for_more()
    {
        Assert.Null(Fault(Tester with { ReadsToDc = Volts.Of(1500) }, 1500)); // IEC/EN 61243-3:2014, published: up to 1 500 V DC
        Assert.Contains(SheetRules.Faults(SampleSheet.Of(1501)), fault => fault.Path == "highestvolts"); // the same
    }

    [Fact]
    public void A_tester_that_does_not_reach_is_refused_with_the_figures() =>
        Assert.Equal(
            "tester: it reads to 600 volts DC, and this vehicle holds up to 800 volts. Take one that reads to 800 volts or more.",
            Fault(Tester with { ReadsToDc = Volts.Of(600) }, 800));

    [Theory]
    [InlineData("12", true)]
    [InlineData("12.1", false)]
    [InlineData("50", false)]
    public void A_tester_must_indicate_at_the_limit_of_every_test_place(string lowest, bool accepted) =>
        // our rule I3; limit 12 V: published manuals, as reported
        Assert.Equal(accepted, Fault(Tester with { LowestDc = Volts.Parse(lowest) }) is null);

    [Fact]
    public void A_tester_whose_figures_are_unknown_is_refused()
    {
        Assert.Contains("does not read DC", Fault(Tester with { ReadsToDc = null }));
        Assert.Contains("lowest indication in DC is not recorded", Fault(Tester with { LowestDc = null }));
    }

    [Fact]
    public void A_sheet_with_ac_pairs_needs_a_tester_and_a_source_for_ac()
    {
        var sheet = SampleSheet.Of(kind: VoltageKind.Ac);
        Assert.Null(KitRules.Fault(Tester, sheet, Today, RatingPolicy.AcFigure));
        Assert.Contains("does not read AC", KitRules.Fault(Tester with { ReadsToAc = null }, sheet, Today, RatingPolicy.AcFigure));
        Assert.Contains("gives no AC", KitRules.Fault(Source, sheet, Today, RatingPolicy.AcFigure));
    }

    [Fact]
    public void A_source_covers_the_range_of_the_vehicle()
    {
        Assert.Null(Fault(Source, 1000));
        Assert.Contains("proves a tester up to 1000 volts DC", Fault(Source, 1001));
        Assert.Contains("what a good tester shows", Fault(Source with { Proves = [new(VoltageKind.Dc, Volts.Of(0), Volts.Of(260), Volts.Of(1000))] }));
    }

    [Theory]
    [InlineData("219.9", false)]
    [InlineData("220", true)]
    [InlineData("-240", true)]
    [InlineData("260", true)]
    [InlineData("260.1", false)]
    public void A_proving_indication_lies_within_the_band(string indicated, bool accepted) =>
        Assert.Equal(accepted, Source.Proves[0].Accepts(Volts.Parse(indicated))); // computed

    [Theory]
    [InlineData(1000, true)]
    [InlineData(1001, false)]
    public void Tools_are_held_to_the_marked_figure(int volts, bool accepted)
    {
        var tools = new KitItem { Id = new("tools"), Kind = KitKind.Tools, Name = "tools", RatedAc = Volts.Of(1000), RatedDc = Volts.Of(1500) };
        Assert.Equal(accepted, Fault(tools, volts) is null); // IEC 60900: 1 000 V AC, 1 500 V DC, from memory; AC figure counts by default
        Assert.Null(KitRules.Fault(tools, SampleSheet.Of(1500), Today, RatingPolicy.DcColumn));
    }

    [Theory]
    [InlineData("00", 500, 750)]
    [InlineData("0", 1000, 1500)]
    public void Footwear_has_the_figures_of_its_class(string name, int ac, int dc)
    {
        var boots = new KitItem { Id = new("boots"), Kind = KitKind.Footwear, Name = "boots", Class = GloveClass.Find(name) };
        Assert.Null(Fault(boots, ac)); // EN 50321-1, published, DC as reported
        Assert.NotNull(Fault(boots, ac + 1));
        Assert.Null(KitRules.Fault(boots, SampleSheet.Of(dc), Today, RatingPolicy.DcColumn)); // the same
    }

    [Fact]
    public void A_kit_without_gloves_or_source_misses_them()
    {
        var kit = KitRules.Required.Where(kind => kind is not (KitKind.Gloves or KitKind.ProvingSource)).Select(kind => Gloves with { Kind = kind });
        Assert.Equal<KitKind>([KitKind.Gloves, KitKind.ProvingSource], KitRules.Missing(kit).AsEnumerable());
        Assert.Equal(Enum.GetValues<KitKind>().Order(), KitRules.Required.Order());
    }

    private static string? Fault(KitItem item, int highest = 400) => KitRules.Fault(item, SampleSheet.Of(highest), Today, RatingPolicy.AcFigure);

    [Fact]
    public void What_was_tested_or_issued_today_may_be_used_today_and_tomorrows_label_may_not()
    {
        var today = new DateOnly(2026, 11, 25);
        var glove = Gloves with { Tested = today, FirstIssue = today, Due = null };
        Assert.Null(KitRules.Fault(glove, SampleSheet.Of(), today, RatingPolicy.AcFigure));
        Assert.Contains("future", KitRules.Fault(glove with { Tested = today.AddDays(1) }, SampleSheet.Of(), today, RatingPolicy.AcFigure), StringComparison.Ordinal);
        Assert.Contains("future", KitRules.Fault(glove with { FirstIssue = today.AddDays(1) }, SampleSheet.Of(), today, RatingPolicy.AcFigure), StringComparison.Ordinal);
        Assert.Null(KitRules.Fault(glove with { Due = today }, SampleSheet.Of(), today, RatingPolicy.AcFigure));
        Assert.NotNull(KitRules.Fault(glove with { Due = today.AddDays(-1) }, SampleSheet.Of(), today, RatingPolicy.AcFigure));
    }

    // Tested 2025-11-20, never issued, first issue 2026-11-25: 29 CFR 1910.137 Table I-5, published.
    [Fact]
    public void The_reason_names_the_rule_by_which_the_test_ran_out()
    {
        var today = new DateOnly(2026, 11, 25);
        string Reason(DateOnly tested, DateOnly? issue) =>
            KitRules.Fault(Gloves with { Tested = tested, FirstIssue = issue, Due = null }, SampleSheet.Of(), today, RatingPolicy.AcFigure)!;
        Assert.Contains("before first use a test holds for twelve months", Reason(new(2025, 11, 20), null), StringComparison.Ordinal);
        Assert.Contains("no test holds longer than twelve months", Reason(new(2025, 11, 20), today), StringComparison.Ordinal);
        Assert.Contains("in use they are tested every six months", Reason(new(2026, 5, 20), new(2026, 5, 20)), StringComparison.Ordinal);
    }
}
