namespace Companion.Sheets.Tests;

public sealed class SheetTextTests
{
    [Fact]
    public void The_print_shows_what_must_be_compared_with_the_makers_document()
    {
        var text = SheetText.Show(Seeds.Sheet("tarnbeck-pipit"));
        Assert.Contains("Sheet 1: Tarnbeck Pipit electric car\n", text, StringComparison.Ordinal);
        Assert.Contains("highest voltage  410 V DC", text, StringComparison.Ordinal);
        Assert.Contains("link: 10 min after the last point feeding link is open", text, StringComparison.Ordinal);
        Assert.Contains("at most 12 V DC, 12 V AC; claimed within 10 min of proving the tester", text, StringComparison.Ordinal);
        Assert.Contains("Way by the cut loop, when plug cannot be done\n", text, StringComparison.Ordinal);
        Assert.Contains(" 8. wait  Keep clear of the inverter until the link wait is over. (10 min)\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain("REHEARSAL", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_capacitance_is_printed_where_the_sheet_names_one()
    {
        var text = Seeds.Text("tarnbeck-pipit").Replace("{ id: link, name: link }", "{ id: link, name: link, microfarads: 680 }", StringComparison.Ordinal);
        Assert.Contains("link: 680 microfarads\n", SheetText.Show(SheetReader.Read(text).Sheet!), StringComparison.Ordinal);
        Assert.DoesNotContain("Capacitances", SheetText.Show(Seeds.Sheet("tarnbeck-pipit")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_sheet_for_rehearsals_says_so_at_the_top() =>
        Assert.StartsWith("Sheet 51: Tarnbeck Pipit electric car, rehearsal\nFOR REHEARSALS ONLY\n", SheetText.Show(Seeds.Sheet("tarnbeck-pipit-rehearsal")), StringComparison.Ordinal);

    [Fact]
    public void A_sheet_without_class_b_and_with_a_document_says_both()
    {
        var text = SheetText.Show(Seeds.Sheet("fennick-siskin"));
        Assert.Contains("  attachment       fennick-siskin.pdf\n", text, StringComparison.Ordinal);
        Assert.Contains("  note             By this sheet the vehicle holds at most 54 volts: no class B voltage.", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_step_stands_in_the_print()
    {
        var sheet = Seeds.Sheet("hollin-drover");
        var text = SheetText.Show(sheet);
        Assert.All(sheet.Steps, step => Assert.Contains(step.Say, text, StringComparison.Ordinal));
    }
}
