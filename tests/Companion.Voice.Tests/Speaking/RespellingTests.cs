using Companion.Voice.Speaking;

namespace Companion.Voice.Tests.Speaking;

/// <summary>Words that both synthesisers say as another word, found in the phonemes of the prompts.</summary>
public sealed class RespellingTests
{
    [Theory]
    [InlineData("Still live: the battery pack.", "Still lyve: the battery pack.")]
    [InlineData("Treat as live.", "Treat as lyve.")]
    [InlineData("proved dead at front inverter, 00:30.", "proved dead at front inverter, zero zero three zero.")]
    [InlineData("Say the reading. Every reading was zero.", "Say the reeding. Every reeding was zero.")]
    [InlineData("It must read Pipit. It was read back.", "It must reed Pipit. It was read back.")]
    [InlineData("positive to chassis", "positive to shassy")]
    [InlineData("Use the tester. What it is of use for.", "yuze the tester. What it is of use for.")]
    [InlineData("Delivered alive, closed, misread, metrestick.", "Delivered alive, closed, misread, metrestick.")]
    public void A_word_is_spelled_as_it_sounds_and_its_neighbours_are_left_alone(string text, string sounded) =>
        Assert.Equal(sounded, RespellingSynthesiser.Respell(text));
}
