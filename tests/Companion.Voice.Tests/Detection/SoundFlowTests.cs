using Companion.Voice.Audio;
using Companion.Voice.Detection;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Detection;

public sealed class SoundFlowTests
{
    private static readonly TimeSpan Frame = AudioFormat.Length(AudioFormat.FrameSamples);

    private readonly ManualClock clock = new();
    private readonly SoundFlow flow = new();

    [Fact]
    public void Sound_that_keeps_pace_is_whole_however_the_frames_jitter()
    {
        for (var n = 0; n < 1_000; n++)
        {
            // Late by up to 40 ms, the next one as much earlier.
            Assert.False(Take(Frame + TimeSpan.FromMilliseconds(n % 2 == 0 ? 40 : -40) / 2));
        }

        Assert.Null(flow.Fault);
    }

    // I8
    [Theory]
    [InlineData(100, null)]
    [InlineData(400, "loses sound")]
    public void A_hole_is_noticed_before_an_utterance_that_it_cut_can_end(int milliseconds, string? expected)
    {
        Run(100);
        Take(Frame + TimeSpan.FromMilliseconds(milliseconds));
        var after = 1;
        while (!Take(Frame))
        {
            after++;
        }

        Assert.InRange(after, 1, UtteranceSegmenter.HangoverFrames - 2);
        Assert.Equal(expected is not null, flow.Fault?.Contains(expected!, StringComparison.Ordinal) ?? false);
        Run(80);
        Assert.Null(flow.Fault);
    }

    [Theory]
    [InlineData(400)]
    [InlineData(1_500)]
    public void A_busy_machine_that_takes_frames_late_and_then_all_at_once_has_lost_nothing(int milliseconds)
    {
        Run(100);
        clock.Advance(TimeSpan.FromMilliseconds(milliseconds));
        for (var n = 0; n < milliseconds / 32; n++)
        {
            Assert.False(Take(TimeSpan.FromMilliseconds(0.5)));
        }

        for (var n = 0; n < 100; n++)
        {
            Assert.False(Take(Frame));
        }
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(2)]
    public void A_source_at_the_wrong_pace_is_noticed_within_two_seconds(double pace)
    {
        Run(100);
        var began = clock.Now().Boot;
        while (flow.Fault is null && clock.Now().Boot - began < Companion.Domain.Time.Ticks.OfSeconds(10))
        {
            Take(Frame / pace);
        }

        Assert.InRange((clock.Now().Boot - began).Nanoseconds, 0, 2_000_000_000);
    }

    private void Run(int frames)
    {
        for (var n = 0; n < frames; n++)
        {
            Assert.False(Take(Frame));
        }
    }

    private bool Take(TimeSpan after)
    {
        var asked = clock.Now();
        clock.Advance(after);
        return flow.Take(AudioFormat.FrameSamples, asked, clock.Now());
    }
}
