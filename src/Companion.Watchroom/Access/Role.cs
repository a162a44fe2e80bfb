namespace Companion.Watchroom.Access;

/// <summary>What a person may do in the watch room. Each role may do what the one before may.</summary>
public enum Role
{
    /// <summary>May look at the board, but is shown no quiet alert: somebody may stand beside them.</summary>
    Technician,

    /// <summary>May take alerts and end watches.</summary>
    TeamLead,

    /// <summary>May pair and revoke tablets.</summary>
    Administrator,
}
