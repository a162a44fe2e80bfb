using Companion.Domain.Time;
using Companion.Screens.Answering;
using Companion.Screens.Gestures;
using CsCheck;

namespace Companion.Screens.Tests;

/// <summary>I17.</summary>
public sealed class HoldTests
{
    private static readonly QuestionKey Shown = new(12, Ticks.OfSeconds(10));

    [Theory]
    [InlineData(80, false)]
    [InlineData(1199, false)]
    [InlineData(1200, true)]
    [InlineData(5000, true)]
    public void A_hold_is_deliberate_from_1_2_seconds(int milliseconds, bool deliberate)
    {
        var gesture = new HoldGesture();
        gesture.Down(1, Target.Primary, Shown, At(12_000));

        var press = gesture.Up(1, At(12_000 + milliseconds), Ticks.OfMilliseconds(milliseconds));

        Assert.Equal(deliberate, press!.IsDeliberate);
        Assert.Equal((Target.Primary, Shown, At(12_000)), (press.Target, press.Shown, press.Began));
    }

    [Fact]
    public void Of_two_measures_of_a_hold_the_shorter_counts()
    {
        var gesture = new HoldGesture();
        gesture.Down(1, Target.Primary, Shown, At(12_000));
        Assert.False(gesture.Up(1, At(14_000), Ticks.OfMilliseconds(90))!.IsDeliberate);

        gesture.Down(1, Target.Primary, Shown, At(15_000));
        Assert.False(gesture.Up(1, At(15_090), Ticks.OfMilliseconds(2000))!.IsDeliberate);
    }

    [Fact]
    public void A_second_touch_cancels_a_hold_until_every_finger_is_up()
    {
        var gesture = new HoldGesture();
        gesture.Down(1, Target.Primary, Shown, At(12_000));
        gesture.Down(2, string.Empty, Shown, At(12_500));
        Assert.Null(gesture.Up(1, At(14_000), Ticks.OfSeconds(2)));
        gesture.Down(3, Target.Primary, Shown, At(14_100));
        Assert.Null(gesture.Up(3, At(16_000), Ticks.OfSeconds(2)));
        Assert.Null(gesture.Up(2, At(16_100), Ticks.OfSeconds(3)));

        gesture.Down(1, Target.Primary, Shown, At(17_000));
        Assert.NotNull(gesture.Up(1, At(18_300), Ticks.OfMilliseconds(1300)));
    }

    [Theory]
    [InlineData(10_000, false)]
    [InlineData(10_299, false)]
    [InlineData(10_300, true)]
    public void A_finger_that_is_down_as_the_question_appears_was_meant_for_the_one_before(int down, bool counts)
    {
        var gesture = new HoldGesture();
        gesture.Down(1, Target.Primary, Shown, At(down));

        Assert.Equal(counts, gesture.Up(1, At(down + 1500), Ticks.OfMilliseconds(1500)) is not null);
    }

    [Fact]
    public void What_lies_on_the_screen_longer_than_ten_seconds_is_no_finger()
    {
        var gesture = new HoldGesture();
        gesture.Down(1, Target.Primary, Shown, At(12_000));

        Assert.Null(gesture.Up(1, At(22_001), Ticks.OfMilliseconds(10_001)));
    }

    [Fact]
    public void A_finger_that_slid_off_does_not_count()
    {
        var gesture = new HoldGesture();
        gesture.Down(1, Target.Primary, Shown, At(12_000));
        gesture.Cancel(1);

        Assert.Null(gesture.Up(1, At(14_000), Ticks.OfSeconds(2)));
    }

    [Fact]
    public void No_sequence_of_touches_makes_a_hold_that_no_single_lone_finger_held() =>
        (from events in Gen.Select(Gen.Int[0, 3], Gen.Long[1, 3], Gen.Int[1, 900]).Array[1, 60] select events).Sample(events =>
        {
            var gesture = new HoldGesture();
            var down = new Dictionary<long, (int At, bool Lone)>();
            var now = 12_000;
            foreach (var (what, pointer, stride) in events)
            {
                now += stride;
                if (what <= 1 && !down.ContainsKey(pointer))
                {
                    foreach (var other in down.Keys.ToList())
                    {
                        down[other] = down[other] with { Lone = false };
                    }

                    down[pointer] = (now, down.Count == 0);
                    gesture.Down(pointer, Target.Primary, Shown, At(now));
                }
                else if (what == 2 && down.Remove(pointer, out var began))
                {
                    var press = gesture.Up(pointer, At(now), Ticks.OfMilliseconds(now - began.At));
                    Assert.True(press is null || (began.Lone && press.Held == Ticks.OfMilliseconds(now - began.At)));
                    Assert.True(press is not { IsDeliberate: true } || now - began.At >= 1200);
                }
                else if (what == 3 && down.Remove(pointer))
                {
                    gesture.Cancel(pointer);
                }
            }
        });

    private static Moment At(int milliseconds) =>
        new(DateTimeOffset.UnixEpoch, "boot", Ticks.OfMilliseconds(milliseconds), Ticks.OfMilliseconds(milliseconds));
}
