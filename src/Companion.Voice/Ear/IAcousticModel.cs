namespace Companion.Voice.Ear;

/// <summary>Features in, log-probabilities of phones out. Calls may come from any thread.</summary>
public interface IAcousticModel
{
    /// <summary>The order of the symbols.</summary>
    Phones Phones { get; }

    /// <summary>Scores one utterance.</summary>
    Posteriors Score(Features features);
}
