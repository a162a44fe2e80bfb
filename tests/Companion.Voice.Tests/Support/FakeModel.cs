using Companion.Voice.Ear;

namespace Companion.Voice.Tests.Support;

/// <summary>A network that hears what the test says it hears.</summary>
public sealed class FakeModel : IAcousticModel
{
    public string Hears { get; set; } = "ready";

    public Phones Phones => Phones.Alphabetical;

    public Posteriors Score(Features features) => Peaky.Words(Hears);
}
