using Companion.Pages.Across;
using Companion.Pages.Record;
using Companion.Review;
using Companion.Review.Across;
using Companion.Review.Listening;
using Companion.Voice.Speaking;
using Companion.Watchroom.Access;
using Companion.Watchroom.Proving;

namespace Companion.Watchroom.Web;

/// <summary>The pages that look back: records with their replay and remarks, and many jobs at once. Who looked is written down first.</summary>
internal static class RecordPages
{
    private const string Root = "/jobs";

    /// <summary>Stands for every record in the audit: no device and no job can have this name.</summary>
    private static readonly RecordName All = new("*", "*");

    /// <summary>Maps them, for team leads and administrators.</summary>
    public static void Map(IEndpointRouteBuilder routes, WatchroomServices services)
    {
        var records = new ReceivedRecords(services.Devices, services.Receiver, checksEnds: true);
        var looks = new Looks(services.Audit, services.Time);
        Task LookedAsync(HttpContext context, RecordName name, string what) => looks.AtAsync(context.User.Identity!.Name!, name.Device, name.Chain, what);
        var head = new RecordHead(Root, "Board")
        {
            Speak = PromptSound.Usual().Wav,
            Looked = LookedAsync,
            Peeked = (context, name) => looks.AtPartAsync(context.User.Identity!.Name!, name.Device, name.Chain),
            Code = (name, job) => services.Devices.Find(name.Device) is { } device ? RoomPaperSigner.CodeOf(services.Store, device.Tablet, job) : null,
            Time = services.Time,
            Sound = new SoundShelf(services.Store),
            Listened = (context, name) => LookedAsync(context, name, "sound"),
            Called = name => services.Devices.Find(name.Device)?.Called ?? name.Device,
            Links = LinksOf,
        };
        routes.MapGroup(Root).RequireAuthorization(PageRoutes.Takes).MapRecords(records, head, hasDevices: true);
        var library = new JobLibrary(new ReceivedRecords(services.Devices, services.Receiver, checksEnds: false));
        routes.MapGroup(Root).RequireAuthorization(PageRoutes.Takes).MapAcross(library, context => LookedAsync(context, All, "across"));
    }

    private static (string Words, string Address)[] LinksOf(RecordName name)
    {
        var address = $"{Root}/{Uri.EscapeDataString(name.Device)}/{Uri.EscapeDataString(name.Chain)}";
        return [("Comments", $"{address}/comments"), ("Export with proof", $"{address}/export"), ("All jobs together", $"{Root}/across")];
    }
}
