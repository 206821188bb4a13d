namespace Acquire.Domain.Records;

/// <summary>One control strip as it was read, with everything it was judged by. This is the contract in the middle: acquisition writes it,
/// the analysis reads it, exports carry it. A changed copy, by <c>with</c>, is proved like a new record: it throws
/// <see cref="ImpossibleValueException"/> where it cannot be.</summary>
public sealed record StripRecord
{
    /// <exception cref="ImpossibleValueException">No lot; patches that are not those of the layout, in its order; a mean or aim of a patch
    /// the layout lacks, or two of one patch and channel.</exception>
    public StripRecord(
        Guid id, string lotCode, StripLayout layout, ProcessSheet judgedBy, ImmutableArray<PatchReads> patches,
        ImmutableArray<PatchMean> means, ImmutableArray<Aim> aims, Provenance provenance, Revision revision)
    {
        (Id, LotCode, JudgedBy) = (id, lotCode, judgedBy);
        (Layout, Patches, Means, Aims) = (layout, patches, means, aims);
        (Provenance, Revision) = (provenance, revision);
    }

    /// <summary>UUID v7.</summary>
    public Guid Id
    {
        get;
        init
        {
            field = value;
            RequireOthers();
        }
    }

    public string LotCode
    {
        get;
        init => field = Guard.Text(value, "The lot of a strip");
    }

    /// <summary>The patches as they lie on the strip. A copy may name the layout otherwise; other patches make another record.</summary>
    public StripLayout Layout
    {
        get;
        init
        {
            field = value ?? throw new ImpossibleValueException("A strip needs a layout.");
            RequireLayout();
        }
    }

    /// <summary>The parameters and limits in force when it was judged.</summary>
    public ProcessSheet JudgedBy
    {
        get;
        init => field = value ?? throw new ImpossibleValueException("A strip needs the process sheet it is judged by.");
    }

    /// <summary>Every read, in the layout's order.</summary>
    public ImmutableArray<PatchReads> Patches
    {
        get;
        init
        {
            field = Guard.NotEmpty(value, "The patches of a strip");
            RequireLayout();
        }
    }

    /// <summary>The means of the reads that count.</summary>
    public ImmutableArray<PatchMean> Means
    {
        get;
        init => field = Known(value, m => (m.PatchKey, m.Channel), "The mean");
    }

    /// <summary>The aims in force when it was judged.</summary>
    public ImmutableArray<Aim> Aims
    {
        get;
        init => field = Known(value, a => (a.PatchKey, a.Channel), "The aim");
    }

    /// <summary>When, by whom and with what it was read.</summary>
    public Provenance Provenance
    {
        get;
        init => field = value ?? throw new ImpossibleValueException("A strip was read at some time by somebody.");
    }

    public Revision Revision
    {
        get;
        init => field = value ?? throw new ImpossibleValueException("A strip record has a revision.");
    }

    /// <summary>The reference whose readings made the aims; null when there was none.</summary>
    public Guid? ReferenceId { get; init; }

    /// <summary>The bench session it was read in; null when it was not read by the bench.</summary>
    public Guid? SessionId { get; init; }

    /// <summary>The calibration check in force when it was read; null when there was none.</summary>
    public Guid? CheckId { get; init; }

    /// <summary>Why no calibration check was in force, where the user wants strips marked so; null when it is not marked.</summary>
    public string? CheckLacking { get; init; }

    /// <summary>The repeatability test in force when it was read, with what it told; null when there was none.</summary>
    public RepeatabilityInForce? Repeatability { get; init; }

    /// <summary>What the user said of it.</summary>
    public StripTags Tags
    {
        get;
        init
        {
            field = value ?? StripTags.None;
            RequireOthers();
        }
    }

    = StripTags.None;

    /// <summary>What was asked while it was read, because a reading looked like a mistake; in the order of asking.</summary>
    public ImmutableArray<StripQuestion> Questions
    {
        get;
        init => field = value.IsDefault ? [] : value;
    }

    = [];

    /// <summary>Finds a mean; null when no read of the patch counts in that channel.</summary>
    public PatchMean? Mean(string patchKey, Channel channel) =>
        Means.FirstOrDefault(m => m.Channel == channel && Keys.Same(m.PatchKey, patchKey));

    /// <summary>Finds an aim; null when the lot has none.</summary>
    public Aim? Aim(string patchKey, Channel channel) => Aims.FirstOrDefault(a => a.Channel == channel && Keys.Same(a.PatchKey, patchKey));

    // A new record sets its layout before its patches; a copy has both, and their keys stay, so means and aims go on fitting.
    private void RequireLayout()
    {
        if (!Patches.IsDefault
            && !Patches.Select(p => p.Patch.Key).SequenceEqual(Layout.Patches.Select(p => p.Key), StringComparer.OrdinalIgnoreCase))
        {
            throw new ImpossibleValueException($"The patches of a strip must be those of its layout '{Layout.Name}', in its order.");
        }
    }

    private void RequireOthers()
    {
        // Asked by id and by tags, whichever is set last: a copy may get a new one of either.
        if (Tags.Others.FirstOrDefault(o => o.Strip == Id) is { How: { } how })
        {
            throw new ImpossibleValueException($"The strip {Id} cannot refer to itself as the strip it {how}.");
        }
    }

    private ImmutableArray<T> Known<T>(ImmutableArray<T> numbers, Func<T, (string Patch, Channel Channel)> place, string what)
    {
        // A mean of an unknown patch would be kept and never be found again; two of one patch would be one or the other by chance.
        ImmutableArray<T> all = numbers.IsDefault ? [] : numbers;
        foreach (var number in all)
        {
            _ = Layout.GetByKey(place(number).Patch);
        }

        Guard.Unique(all, n => $"{place(n).Patch} {place(n).Channel.Word()}", what);
        return all;
    }
}

/// <summary>What the user said to a question.</summary>
public enum QuestionAnswer
{
    /// <summary>Nothing: reading went on, or nobody was there.</summary>
    Unanswered,

    /// <summary>Yes: what was proposed was done, or the user saw to it.</summary>
    Accepted,

    /// <summary>No: the strip stayed as it was read.</summary>
    Dismissed,
}

/// <summary>A question that was asked while a strip was read, because a mistake of
/// reading was likelier than what the process can do.</summary>
/// <param name="Kind">The mistake that was suspected, as a word such as <c>wrong_end</c>.</param>
/// <param name="Remedy">What was proposed, in words.</param>
/// <param name="Evidence">Natural logarithm of the odds of the mistake against "the process did this"; 3 is 20 to 1.</param>
public sealed record StripQuestion(string Kind, string Question, string Remedy, double Evidence, DateTimeOffset AskedAt)
{
    /// <summary>What the user said.</summary>
    public QuestionAnswer Answer { get; init; }

    /// <summary>When the user said it; null when nothing was said.</summary>
    public DateTimeOffset? AnsweredAt { get; init; }
}

/// <summary>Ids are UUID v7: they begin with the time, so that strips of one evening begin alike, and end at random. The short form
/// is therefore the end. To find a strip, any beginning or end of its id of four digits or more will do, and any beginning of the
/// short form that is shown, if it fits one strip only.</summary>
public static class StripId
{
    /// <summary>The fewest hexadecimal digits that are taken for a part of an id.</summary>
    public const int FewestDigits = 4;

    public const int ShortDigits = 8;

    /// <summary>The last eight hexadecimal digits.</summary>
    // The end of it: a UUID v7 begins with its time, which the strips of an evening share.
    public static string ShortForm(Guid id) => id.ToString("N")[^ShortDigits..];

    /// <summary>Whether an id begins or ends so, or its short form begins so.</summary>
    /// <param name="id">All hexadecimal digits of the id, without hyphens.</param>
    /// <param name="digits">The part, likewise.</param>
    public static bool Fits(string id, string digits) =>
        id.StartsWith(digits, StringComparison.OrdinalIgnoreCase)
        || id.EndsWith(digits, StringComparison.OrdinalIgnoreCase)
        || id[^ShortDigits..].StartsWith(digits, StringComparison.OrdinalIgnoreCase);

    /// <summary>The hexadecimal digits of an id or a part of one, hyphens left out; null when the text is no such thing.</summary>
    public static string? Digits(string text)
    {
        var digits = text.Trim().Replace("-", "", StringComparison.Ordinal).ToLowerInvariant();
        return digits.Length is >= FewestDigits and <= 32 && digits.All(char.IsAsciiHexDigit) ? digits : null;
    }
}
