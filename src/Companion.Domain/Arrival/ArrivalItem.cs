namespace Companion.Domain.Arrival;

/// <summary>One thing that is settled before a sheet is chosen: something to do, or a question about the vehicle and its surroundings.</summary>
/// <param name="Id">Its id, unique in the list.</param>
/// <param name="Concern">What it settles.</param>
/// <param name="Name">Its name in the read-back: "fire or smoke".</param>
/// <param name="Say">What is to be done, or the question, as it is spoken.</param>
/// <param name="Leads">Where it leads.</param>
/// <param name="Then">What is said, or must be done, after a yes; null when the yes says it all.</param>
public sealed record ArrivalItem(ArrivalItemId Id, Concern Concern, string Name, string Say, Leads Leads, string? Then = null);

/// <summary>Where an item of the arrival list leads.</summary>
public enum Leads
{
    /// <summary>No question: it is to be done. When it cannot be, the job stops.</summary>
    Act,

    /// <summary>A yes is recorded, its advice is spoken, and the job goes on.</summary>
    Note,

    /// <summary>A yes must be mended first; when it cannot be, the job stops, and beside a charging cable everybody stands off.</summary>
    Remedy,

    /// <summary>A yes stops the job.</summary>
    Stop,

    /// <summary>A yes means: stand off, the fire service, no isolation.</summary>
    StandOff,
}

/// <summary>How an item was settled.</summary>
public enum SceneAnswer
{
    /// <summary>Done, or mended.</summary>
    Done,

    /// <summary>No.</summary>
    No,

    /// <summary>Yes, or nobody can tell.</summary>
    Yes,
}
