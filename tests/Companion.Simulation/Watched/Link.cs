using System.Net;
using System.Text;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Domain.Time;
using Companion.Journal.Proof;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Watched;

/// <summary>The network between tablets and watch room, and all that it does to a request. Every answer completes before the call returns.</summary>
internal sealed class Link(Func<Ticks> now, Action<string> struck)
{
    private const int LongestDelaySeconds = 90;
    private static readonly Fate[] Fates = [.. Enum.GetValues<Fate>().Where(fate => fate != Fate.Arrives)];

    private readonly List<(Ticks At, Letter Letter)> _underWay = [];
    private InvariantBrokenException? _broken;

    private enum Fate
    {
        Arrives,
        LostBefore,
        LostAfter,
        Doubled,
        Delayed,
        CutShort,
        AnswerCutShort,
        Portal,
        Impostor,
    }

    /// <summary>The names of all that can happen to a request.</summary>
    public static IReadOnlyList<string> Troubles => [.. Fates.Select(Name)];

    /// <summary>Chance of the present step.</summary>
    public Random Chance { get; set; } = new(0);

    /// <summary>How many requests out of a hundred come to grief.</summary>
    public int Trouble { get; set; }

    /// <summary>Tablets that reach nothing.</summary>
    public HashSet<int> CutOff { get; } = [];

    /// <summary>Called with every letter as it is sent.</summary>
    public required Action<Letter> Sent { get; init; }

    /// <summary>Brings a letter to the watch room; null when nobody is there.</summary>
    public required Func<Letter, Reply?> Deliver { get; init; }

    /// <summary>When the next delayed letter arrives; null when none is under way.</summary>
    public Ticks? Next => _underWay.Count == 0 ? null : _underWay.Min(one => one.At);

    /// <summary>A tablet's end of it.</summary>
    public HttpMessageHandler End(int tablet) => new Handler(this, tablet);

    /// <summary>Delayed letters whose time has come arrive, in whatever order that makes. Nobody waits for their answers any more.</summary>
    public void Arrive()
    {
        foreach (var due in _underWay.Where(one => one.At <= now()).OrderBy(one => one.At).ToList())
        {
            _underWay.Remove(due);
            Deliver(due.Letter);
        }
    }

    /// <summary>An objection that was raised while a tablet was sending, and that the tablet took for trouble of the link.</summary>
    public void Rethrow()
    {
        if (_broken is { } broken)
        {
            throw new InvariantBrokenException(broken.Message);
        }
    }

    private Reply Carry(Letter letter)
    {
        Sent(letter);
        var fate = CutOff.Contains(letter.Tablet) ? Fate.LostBefore : Chance.Next(100) < Trouble ? Fates[Chance.Next(Fates.Length)] : Fate.Arrives;
        if (fate != Fate.Arrives && !CutOff.Contains(letter.Tablet))
        {
            struck(Name(fate));
        }

        return fate switch
        {
            Fate.Arrives => Deliver(letter) ?? throw Unreachable(),
            Fate.LostAfter => throw Lost(Deliver(letter)),
            Fate.Doubled => Twice(letter),
            Fate.Delayed => throw Later(letter),
            Fate.CutShort => Deliver(letter with { Body = letter.Body[..(letter.Body.Length / 2)] }) ?? throw Unreachable(),
            Fate.AnswerCutShort => Deliver(letter) is { } whole ? whole with { Body = whole.Body[..(whole.Body.Length / 2)] } : throw Unreachable(),
            Fate.Portal => Portal(),
            Fate.Impostor => Impostor(letter),
            _ => throw Unreachable(),
        };
    }

    private Reply Twice(Letter letter)
    {
        var (first, second) = (Deliver(letter), Deliver(letter));
        return (Chance.Next(2) == 0 ? first : second) ?? throw Unreachable();
    }

    private HttpRequestException Later(Letter letter)
    {
        _underWay.Add((now() + Ticks.OfMilliseconds(Chance.Next(LongestDelaySeconds * 1000)), letter));
        return Unreachable();
    }

    /// <summary>A sign-in page, in one of two guises.</summary>
    private Reply Portal() => Chance.Next(2) == 0
        ? new Reply(200, "text/html", "<html><body>Welcome. Please sign in.</body></html>"u8.ToArray())
        : new Reply(200, "application/json", """{"status":"signin"}"""u8.ToArray());

    /// <summary>Something that says the right words and does not know the record.</summary>
    private Reply Impostor(Letter letter)
    {
        if (letter.Path == UplinkFormat.BeatPath)
        {
            return Portal();
        }

        var entry = ExportLine.ReadAll(letter.Body).Last();
        var answer = new BatchAnswer(entry.Chain, entry.Sequence, Convert.ToHexStringLower(Encoding.UTF8.GetBytes("nothing of this is held anywhere")));
        return new Reply(200, "application/json", JsonSerializer.SerializeToUtf8Bytes(answer, UplinkFormat.Json));
    }

    private static string Name(Fate fate) => $"link: {fate}";

    private static HttpRequestException Lost(Reply? _) => Unreachable();

    private static HttpRequestException Unreachable() => new(HttpRequestError.ConnectionError, "no way there");

    private sealed class Handler(Link link, int tablet) : HttpMessageHandler
    {
        protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
        {
            var headers = request.Headers.ToDictionary(header => header.Key, header => string.Join(',', header.Value));
            var content = request.Content!;
            var letter = new Letter(
                tablet, request.RequestUri!.AbsolutePath, headers, content.Headers.ContentType!.ToString(), content.ReadAsByteArrayAsync(cancellationToken).GetAwaiter().GetResult());
            try
            {
                var reply = link.Carry(letter);
                var body = new ByteArrayContent(reply.Body);
                body.Headers.TryAddWithoutValidation("Content-Type", reply.ContentType);
                return Task.FromResult(new HttpResponseMessage((HttpStatusCode)reply.Status) { Content = body });
            }
            catch (InvariantBrokenException broken)
            {
                link._broken ??= broken;
                throw;
            }
        }
    }
}
