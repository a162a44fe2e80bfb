using System.Diagnostics;
using System.Text.Json;
using System.Text.RegularExpressions;
using Companion.Contracts.Uplink;
using Companion.TestKit;

namespace Companion.Benchmarks.Watchroom;

/// <summary>
/// From a beat with a call for help, sent to the watch room's process, until every open page has read the feed's word of it, and until it has the new
/// board. The feed looks four times a second, which is part of the figure. The peer is a single open page in the same run.
/// </summary>
internal static partial class PagesBenchmark
{
    private const int DefaultPages = 200;
    private const int Words = 20;
    private const string Person = "Runa Holt";
    private const string Password = "four plain words here";

    /// <summary>Boards fetched by all pages in one minute: a watch room answers 1,200 requests for pages a minute from one address.</summary>
    private const int MostBoards = 900;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    /// <summary>Runs; the number is that of pages, up to 250.</summary>
    public static async Task<object> RunAsync(int[] numbers)
    {
        var folder = Directory.CreateTempSubdirectory("companion-bench-pages-");
        try
        {
            using var room = WatchroomProgram.In(Path.Combine(folder.FullName, "watchroom"));
            await room.StartAsync();
            await room.VerbAsync(Password, "add-person", Person, "teamlead");
            var cookie = await SignInAsync(room);
            using var tablet = await SigningTablet.PairAsync(room, Path.Combine(folder.FullName, "tablet"), Guid.NewGuid());
            var pages = numbers.FirstOrDefault(DefaultPages);
            var sender = new Sender(room, tablet);
            var one = await MeasureAsync(sender, room, cookie, 1);
            var all = await MeasureAsync(sender, room, cookie, pages);
            return new
            {
                pages,
                word = all.Word.Milliseconds(),
                board = all.Board.Milliseconds(),
                peeronepage = new { word = one.Word.Milliseconds(), board = one.Board.Milliseconds() },
                ratio50word = all.Word.Ratio(one.Word, 50),
                ratio99word = all.Word.Ratio(one.Word, 99),
                ratio50board = all.Board.Ratio(one.Board, 50),
            };
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<(Times Word, Times Board)> MeasureAsync(Sender sender, WatchroomProcess room, string cookie, int count)
    {
        var pages = new List<FeedPage>();
        try
        {
            for (var page = 0; page < count; page++)
            {
                pages.Add(await FeedPage.OpenAsync(room.Address, room.Fingerprint, cookie));
            }

            Times word = new(), board = new();
            var boards = Math.Clamp(MostBoards / count, 1, Words);
            for (var turn = 0; turn < Words + boards; turn++)
            {
                // Pages that have just heard of something else are let come to rest, and no turn begins in step with the feed's own.
                await Task.Delay(1000 + Random.Shared.Next(500));
                var isBoard = turn >= Words;
                var (place, since, changes) = (sender.NextPlace(), Stopwatch.GetTimestamp(), pages.ConvertAll(page => page.NextChange()));
                var shown = pages.Zip(changes, (page, change) => isBoard ? ShownAsync(page, change, place) : change).ToList();
                await sender.SendAsync(place);
                foreach (var at in await Task.WhenAll(shown).WaitAsync(Patience))
                {
                    (isBoard ? board : word).Add(Stopwatch.GetElapsedTime(since, at));
                }
            }

            return (word, board);
        }
        finally
        {
            pages.ForEach(page => page.Dispose());
        }
    }

    /// <summary>As the page's script does it: with every word of a change the board is fetched, until it holds what was sent.</summary>
    private static async Task<long> ShownAsync(FeedPage page, Task<long> change, string place)
    {
        while (true)
        {
            await change;
            change = page.NextChange();
            if ((await page.BoardAsync()).Contains(place, StringComparison.Ordinal))
            {
                return Stopwatch.GetTimestamp();
            }
        }
    }

    private static async Task<string> SignInAsync(WatchroomProcess room)
    {
        using var http = SigningTablet.Http(room.Fingerprint);
        http.BaseAddress = room.Address;
        var token = Token().Match(await http.GetStringAsync("/login")).Groups[1].Value;
        using var answer = await http.PostAsync("/login", new FormUrlEncodedContent(
            new Dictionary<string, string> { ["name"] = Person, ["password"] = Password, ["__RequestVerificationToken"] = token }));
        return answer.Headers.TryGetValues("Set-Cookie", out var cookies) && cookies.FirstOrDefault(cookie => cookie.StartsWith("__Host-companion=", StringComparison.Ordinal)) is { } session
            ? session.Split(';')[0]
            : throw new InvalidOperationException($"Nobody could sign in: {(int)answer.StatusCode}");
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex Token();

    /// <summary>Calls for help from one tablet, each from another place, by which the board is known to be the new one.</summary>
    private sealed class Sender(WatchroomProcess room, SigningTablet tablet)
    {
        private int number;

        public string NextPlace() => $"Mill Lane, marker {++number};";

        public Task SendAsync(string place) => tablet.PostAsync(room.Address, UplinkFormat.BeatPath, JsonSerializer.SerializeToUtf8Bytes(
            new Beat(
                "job-1", "Maren Oake", "working", place, null, new CheckInStatement(1, 0, 3600, 60, "working"), [], [new Call($"job-1/{number}", CallKind.Help, 0)], true, false),
            UplinkFormat.Json));
    }
}
