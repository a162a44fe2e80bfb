using Companion.Voice.Audio;
using Companion.Voice.Speaking;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Speaking;

public sealed class PromptSoundTests
{
    [Fact]
    public void A_prompt_becomes_a_file_that_any_player_reads() =>
        Assert.Equal(new FakeSynthesiser().Speak("7"), WavFile.Parse(new PromptSound(new FakeSynthesiser()).Wav("7")));

    [Fact]
    public void Where_no_speech_can_be_made_there_is_no_file() => Assert.Null(new PromptSound(new FakeSynthesiser()).Wav("!"));
}
