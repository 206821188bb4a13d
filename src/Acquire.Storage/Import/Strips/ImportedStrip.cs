namespace Acquire.Storage.Import.Strips;

/// <summary>Where in a file something stands.</summary>
/// <param name="File">The file, as the user named it.</param>
/// <param name="Line">The line, from 1.</param>
public sealed record FileSpot(string File, int Line)
{
    /// <summary>An error at this place.</summary>
    /// <param name="what">What is wrong and what was expected, without a full stop.</param>
    /// <param name="inner">What it follows from.</param>
    public ImportException Wrong(string what, Exception? inner = null) => new($"{File}, line {Line}: {what}.", inner);
}

/// <summary>A strip as a table has it: words of the file, which only lot and process sheet turn into a record.</summary>
public sealed record ImportedStrip
{
    /// <summary>Where it begins.</summary>
    public required FileSpot Spot { get; init; }

    /// <summary>The file's own name for the strip; null when it has none. A UUID is the id of a record.</summary>
    public string? Name { get; init; }

    /// <summary>Number of the revision; null where the file does not say.</summary>
    public int? Revision { get; init; }

    /// <summary>When it was processed and read.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Code number of the lot.</summary>
    public required string Lot { get; init; }

    /// <summary>Key or name of the process; null where the file does not say.</summary>
    public string? Process { get; init; }

    /// <summary>The density status it was read with; null where the file does not say.</summary>
    public DensityStatus? Status { get; init; }

    /// <summary>What the file says of it, as far as tables can.</summary>
    public StripTags Tags { get; init; } = StripTags.None;

    /// <summary>The person; null where the file does not say.</summary>
    public string? By { get; init; }

    /// <summary>The instrument; null when the values were entered.</summary>
    public InstrumentInUse? Instrument { get; init; }

    /// <summary>The patches that the file has, in its order.</summary>
    public required ImmutableArray<ImportedPatch> Patches { get; init; }

    /// <summary>What the user should know about it.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];

    /// <summary>The id of the record, when the name is one.</summary>
    public Guid? Id => Guid.TryParseExact(Name, "D", out var id) ? id : null;
}

/// <summary>A patch of an imported strip.</summary>
/// <param name="Word">Key or name of the patch.</param>
/// <param name="Line">The line of the file.</param>
/// <param name="Reads">Its reads, in order.</param>
/// <param name="LeftOut">Why the whole patch does not count; null when it counts.</param>
public sealed record ImportedPatch(string Word, int Line, ImmutableArray<PatchRead> Reads, Exclusion? LeftOut = null);
