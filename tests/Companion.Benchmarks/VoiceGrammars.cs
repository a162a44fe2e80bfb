using Companion.Engine.Ports;

namespace Companion.Benchmarks;

/// <summary>The phrases open at one step of the product: the global ones and the step's own.</summary>
internal static class VoiceGrammars
{
    internal const string Code = "code";

    private const string Global = """
        stop|stop
        help|help me
        again|say again
        alright|i am all right
        howlong|how long
        status|status
        leave|leave now
        casualty|casualty
        cannot|cannot do
        key|key on
        engine|engine started
        twelve|twelve volt restored
        woke|vehicle woke
        plug|plug refitted
        charger|charger connected
        wheels|wheels turned
        towed|vehicle towed
        correction|correction
        """;

    private static readonly (string Step, string Own)[] Steps =
    [
        ("open", "opened|opened\ncovered|covered\nremoved|removed\nabsent|not there\nreach|cannot reach\ndamaged|it is damaged\nstuck|it is stuck\ntool|no tool"),
        ("lock", "fitted|fitted [lock {digits:1-4}]"),
        ("check", "ready|ready\ndone|done\nchecked|checked\nnext|next"),
        ("prove", "proved|proved\nnothing|nothing shown\ntest|start test"),
        ("dead", "dead|proved dead\nclear|clear to work"),
        ("reading", "volts|[minus] {number} [volts] [(d c|a c)]\nbelow|below {number} [volts]"),
        ("question", "yes|yes\nno|no"),
        ("code", "code|affirm {digits:2-2}\nwrong|wrong"),
        ("echo", "affirm|affirm\nwrong|wrong"),
    ];

    internal static IReadOnlyList<(string Step, IReadOnlyList<PhrasePattern> Phrases)> All { get; } =
        [.. Steps.Select(step => (step.Step, Phrases(step.Own + "\n" + Global)))];

    private static IReadOnlyList<PhrasePattern> Phrases(string text) =>
        [.. text.Split('\n').Select(line => line.Trim().Split('|', 2)).Select(parts => new PhrasePattern(parts[0], parts[1], parts[0] is "stop" or "help"))];
}
