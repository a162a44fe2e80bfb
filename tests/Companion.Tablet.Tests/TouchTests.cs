using Companion.Tablet.Tests.Support;
using Microsoft.Playwright;

namespace Companion.Tablet.Tests;

/// <summary>I17: what gloves, sleeves, palms, rain and slow links do to a screen confirms nothing by accident.</summary>
public sealed class TouchTests(TouchBench bench) : IClassFixture<TouchBench>
{
    private const string DoubleTap = """
        async gap => {
          const box = document.querySelector('[data-press=primary]').getBoundingClientRect();
          for (const pointer of [5, 6]) {
            const button = document.querySelector('[data-press=primary]');
            const at = { bubbles: true, pointerId: pointer, clientX: box.left + 40, clientY: box.top + 40, width: 20, height: 20 };
            button.dispatchEvent(new PointerEvent('pointerdown', at));
            button.dispatchEvent(new PointerEvent('pointerup', at));
            await new Promise(done => setTimeout(done, gap));
          }
        }
        """;

    /// <summary>The page stands still for a while; as soon as it shows the next question, a finger taps the left button.</summary>
    private const string TapAsItAppears = """
        milliseconds => {
          window.tapped = false;
          const tap = () => {
            const button = document.querySelector('[data-press=primary]');
            const box = button.getBoundingClientRect();
            const at = { bubbles: true, pointerId: 5, clientX: box.left + 40, clientY: box.top + 40, width: 20, height: 20 };
            button.dispatchEvent(new PointerEvent('pointerdown', at));
            setTimeout(() => { button.dispatchEvent(new PointerEvent('pointerup', at)); window.tapped = true; }, 40);
          };
          const watch = new MutationObserver(() => { watch.disconnect(); tap(); });
          watch.observe(document.querySelector('[data-shown]'), { attributeFilter: ['data-shown'] });
          setTimeout(() => { const end = performance.now() + milliseconds; while (performance.now() < end) { } }, 50);
        }
        """;

    private TabletRig Rig => bench.Rig;

    private IPage Page => bench.Page;

    private int Looked => Rig.Job.Checked.Count;

    [Fact]
    public async Task A_palm_a_slip_and_a_touch_that_is_taken_away_confirm_nothing()
    {
        await bench.SettleAsync();
        var looked = Looked;
        await Page.PalmAsync("[data-press=primary]", 1300);
        await Page.SlideAsync("[data-press=primary]", 220, 1000);
        await Page.CancelAsync("[data-press=primary]", 1300);
        await Page.TouchWithTwoAsync(".ask-words", "[data-press=primary]", 1300);
        await Task.Delay(300);
        Assert.Equal(looked, Looked);

        await Page.TouchAsync("[data-press=primary]");
        await TabletRig.UntilTrueAsync(() => Looked == looked + 1);
    }

    // I16: what a palm must not confirm, it may stop.
    [Fact]
    public async Task A_palm_on_stop_stops()
    {
        await bench.SettleAsync();
        await Page.PalmAsync("[data-press=third]", 60);
        await TabletRig.UntilTrueAsync(() => Rig.Job.Alarm is not null);
        await Rig.RightlyAsync();
    }

    [Fact]
    public async Task A_double_tap_answers_one_question_only()
    {
        await bench.SettleAsync();
        var looked = Looked;
        await Page.EvaluateAsync(DoubleTap, 130);
        await TabletRig.UntilTrueAsync(() => Looked > looked);
        await Task.Delay(500);
        Assert.Equal(looked + 1, Looked);
    }

    // Went wrong: the moment of grace ran from the question's entry, and was over before a busy page had drawn it.
    [Fact]
    public async Task A_finger_that_comes_as_a_late_page_draws_the_question_was_meant_for_the_one_before()
    {
        await bench.SettleAsync();
        var looked = Looked;
        await Page.EvaluateAsync(TapAsItAppears, 900);
        await Task.Delay(150);
        await Rig.RightlyAsync();
        await Page.WaitForFunctionAsync("() => window.tapped === true");
        await Task.Delay(400);
        Assert.Equal(looked + 1, Looked);
    }

    // Went wrong: a tap that was stuck on its way was an answer, however much later it came.
    [Fact]
    public async Task A_tap_that_was_long_on_its_way_is_refused_as_late()
    {
        await bench.SettleAsync();
        var question = Rig.Job.Question;
        await bench.LateByAsync(2300, () => Page.TouchAsync("[data-press=primary]"));
        Assert.Equal(question, Rig.Job.Question);
    }

    [Fact]
    public async Task A_tap_whose_question_was_answered_while_it_was_on_its_way_is_refused_as_late()
    {
        await bench.SettleAsync();
        var looked = Looked;
        await bench.LateByAsync(900, async () =>
        {
            await Page.TouchAsync("[data-press=primary]");
            await Rig.RightlyAsync();
        });
        Assert.Equal(looked + 1, Looked);
    }

    // Went wrong: a press of the one button took the question that was open when it arrived, not the one on the screen.
    [Fact]
    public async Task A_press_of_the_one_button_belongs_to_the_question_that_was_on_the_screen()
    {
        await bench.SettleAsync();
        var looked = Looked;
        await bench.LateByAsync(900, async () =>
        {
            await Page.Keyboard.PressAsync("F9");
            await Rig.RightlyAsync();
        });
        Assert.Equal(looked + 1, Looked);
    }
}
