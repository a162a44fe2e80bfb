using Companion.Contracts;

namespace Companion.Journal.Tests.Support;

/// <summary>Drafts with little typing.</summary>
public static class Drafts
{
    private static readonly Dictionary<string, string> NoTexts = [];

    public static EntryDraft Of(string chain, string type, string data = "{}", double seconds = 0) =>
        new(chain, type, FixedClock.Start.AddSeconds(seconds), "boot-one", 6_000_000_000 + (long)(seconds * 1e9), data, NoTexts);

    public static EntryDraft Heard(string chain, string text) =>
        Of(chain, "speech.heard", """{"accepted":true,"reason":""}""") with { Personal = new Dictionary<string, string> { ["text"] = text } };
}
