using Bunit;
using Companion.Domain.Asking;
using Companion.Domain.HandingOver;
using Companion.Screens.Answering;
using Companion.Screens.Showing;
using Companion.Tablet.Components.Sections;
using Companion.Tablet.Web;
using Companion.TestKit;

namespace Companion.Tablet.Tests.Components;

public sealed class MarkupTests : BunitContext
{
    [Fact]
    public void A_button_that_is_held_says_so_in_words_and_to_the_script()
    {
        var button = Render<BigButton>(parameters => parameters
            .Add(p => p.Name, "primary").Add(p => p.Shortcut, "Enter").Add(p => p.Button, ScreenButton.Held(Phrase.Opened)));

        button.MarkupMatches("""
            <button type="button" class="big big-primary" data-press="primary" data-key="Enter" aria-keyshortcuts="Enter" data-hold="true">
              <span class="big-label">Opened</span>
              <span class="big-hint">Hold until full, then let go</span>
            </button>
            """);
    }

    // Went wrong: a panel had the key of the one physical button, which takes it first.
    [Fact]
    public void No_key_of_the_head_bar_is_that_of_the_one_physical_button_or_of_a_big_button()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        var view = new JobView
        {
            Kind = ViewKind.Job, Buttons = ButtonRow.WarningsOnly, HandOver = HandOverSheet.Of(bench.Job!),
        };
        var bar = Render<HeadBar>(parameters => parameters.Add(p => p.View, view).Add(p => p.Panel, string.Empty));
        var keys = bar.FindAll("[data-key]").Select(key => key.GetAttribute("data-key")!).ToList();

        Assert.Equal(keys.Count, keys.Distinct().Count());
        Assert.Contains("F3", keys);
        Assert.DoesNotContain(keys, key => key is "F2" or "F8" or "Enter" || key == new TabletWebOptions { Token = "t" }.ButtonKey);
    }

    [Fact]
    public void A_button_that_means_nothing_now_is_not_only_grey()
    {
        var button = Render<BigButton>(parameters => parameters.Add(p => p.Name, "primary").Add(p => p.Shortcut, "Enter")
            .Add(p => p.Button, ScreenButton.Nothing("Fitted", "Type the number first")));

        Assert.Equal("true", button.Find("button").GetAttribute("aria-disabled"));
        Assert.Contains("Type the number first", button.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_keypad_for_a_reading_has_sign_point_and_below_and_one_for_a_lock_has_not()
    {
        var reading = Render<Keypad>(parameters => parameters.Add(p => p.Need, new NumberNeed(NumberKind.Reading, "rails", 7, "6")));
        var plain = Render<Keypad>(parameters => parameters.Add(p => p.Need, new NumberNeed(NumberKind.Lock, "lock", 4, null)));

        Assert.Equal("1 2 3 Back 4 5 6 − 7 8 9 . 0 Below 6", string.Join(' ', reading.FindAll("button").Select(key => key.TextContent)));
        Assert.Equal("1 2 3 4 5 6 7 8 9 0 Back", string.Join(' ', plain.FindAll("button").Select(key => key.TextContent)));
    }

    [Fact]
    public void The_state_of_a_step_is_a_word_beside_its_mark()
    {
        StepLine[] lines = [new(1, "Chock.", StepState.Done), new(2, "Open.", StepState.Now), new(3, "Lock.", StepState.ToCome)];

        var list = Render<StepList>(parameters => parameters.Add(p => p.Steps, [.. lines]));

        Assert.Equal(["done", "now", "to come"], list.FindAll(".step-word").Select(word => word.TextContent));
        Assert.Equal("2. Open.", list.Find("[aria-current=step] .step-text").TextContent);
    }

    [Fact]
    public void The_cover_needs_neither_script_nor_server_to_say_what_to_do()
    {
        Assert.Equal("Not connected. Treat as live.", string.Join(' ', Render<Cover>().FindAll(".cover-words").Select(words => words.TextContent)));
    }

    [Fact]
    public void A_refusal_is_shown_with_its_reason()
    {
        var view = JobViews.NotConnected(false) with { Heard = new Companion.Engine.HeardLine("proved dead", "Not yet: 120 seconds.", false) };

        var panel = Render<HearingPanel>(parameters => parameters.Add(p => p.View, view));

        Assert.Contains("Not taken", panel.Markup, StringComparison.Ordinal);
        Assert.Contains("Not yet: 120 seconds.", panel.Markup, StringComparison.Ordinal);
    }
}
