namespace DemoTerm;

/// <summary>Who works in the college's darkroom; roles, nobody in particular.</summary>
internal static class People
{
    /// <summary>Leads the evening class.</summary>
    public const string Tutor = "tutor";

    /// <summary>Mixes, reads and repairs.</summary>
    public const string Technician = "technician";

    /// <summary>Helps the class.</summary>
    public const string Assistant = "assistant";
}
