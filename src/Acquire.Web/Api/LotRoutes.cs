using Acquire.Bench.Instruments;
using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Acquire.Web.Api;

/// <summary>Strip lots, their references and aims.</summary>
internal static class LotRoutes
{
    public static void MapLots(this RouteGroupBuilder api)
    {
        var lots = api.MapGroup("/lots").WithTags("lots");
        lots.MapGet("", ListAsync).Reads("listLots", "The strip lots.");
        lots.MapPost("", AddAsync).Writes("addLot", "Add a strip lot; its reference comes next.", LotBody.Example);
        lots.MapGet("/{code}", ShowAsync).Reads("showLot", "A strip lot and its aims.");
        lots.MapPost("/{code}/references", EnterReferenceAsync).Writes(
            "enterReference",
            "Enter the densities of the reference strip; the aims follow from them. To read the strip, begin a session.",
            ReferenceBody.Example);
        lots.MapPost("/{code}/baseline", MakeBaselineAsync).Writes(
            "makeBaseline",
            "Make the reference from five own strips, one of each of five days, where the maker gives none.",
            BaselineBody.Example);
        lots.MapGet("/{code}/rechecks", RecheckedAsync)
            .Reads("showRechecks", "The reference strip read again and held against its first readings.");
    }

    private static async Task<PageDocument<LotDocument>> ListAsync(
        [AsParameters] PageQuery page, LotBook lots, CancellationToken cancellationToken) =>
        Paging.Of(page, await lots.ListAsync(cancellationToken), l => l.Lot.Code, LotJson.Of);

    private static async Task<Created<AddedLotDocument>> AddAsync(LotBody body, LotBook lots, CancellationToken cancellationToken)
    {
        var added = await lots.AddAsync(body.Request(), cancellationToken);
        return TypedResults.Created(
            Location.Of("lots", added.Lot.Code),
            new AddedLotDocument { Lot = LotJson.Of(new ListedLot(added.Lot, null)), Lacking = added.Lacking });
    }

    private static async Task<LotAimsDocument> ShowAsync(string code, LotBook lots, CancellationToken cancellationToken) =>
        LotJson.Of(await lots.GetAsync(code, cancellationToken));

    private static async Task<Created<LotAimsDocument>> EnterReferenceAsync(
        string code,
        ReferenceBody body, Caller caller, ReferenceEntry entry, InstrumentBook instruments, CancellationToken cancellationToken)
    {
        var origin = await body.OriginAsync(instruments, cancellationToken);
        var request = new ReferenceRequest(code, body.Reason ?? "reference strip entered") { Origin = origin };
        var kept = await entry.EnterAsync(request, Given.Items(body.Values, "values"), caller.Name, cancellationToken);
        return TypedResults.Created(Location.Of("lots", kept.Lot.Code), LotJson.Of(kept));
    }

    private static async Task<Created<BaselineDocument>> MakeBaselineAsync(
        string code, BaselineBody body, Caller caller, LotBaseline baseline, CancellationToken cancellationToken)
    {
        var made = await baseline.MakeAsync(code, Given.Items(body.Strips, "strips"), caller.Name, cancellationToken);
        return TypedResults.Created(
            Location.Of("lots", made.Entry.Lot.Code),
            new BaselineDocument { Lot = LotJson.Of(made.Entry), Strips = made.Strips.Select(s => s.Id), Warning = made.Warning });
    }

    private static async Task<RecheckDocument> RecheckedAsync(string code, Rechecks rechecks, CancellationToken cancellationToken) =>
        RecheckJson.Of(await rechecks.ReviewAsync(code, cancellationToken));
}

/// <summary>A lot that is to be added.</summary>
internal sealed record LotBody
{
    public static LotBody Example { get; } = new()
    {
        Code = "2417",
        Process = "c41",
        Factors = ["ld +0.01 -0.02 0"],
        Expires = "2027-06-30",
        Storage = "frozen, thawed in the closed pack",
    };

    /// <summary>The code number printed on the box.</summary>
    public required string Code { get; init; }

    /// <summary>Key or name of the process sheet, such as c41.</summary>
    public required string Process { get; init; }

    /// <summary>Key of the strip layout, where the process sheet has several; the first when not given.</summary>
    public string? Layout { get; init; }

    /// <summary>Correction factors from the sheet in the box, a patch each: "PATCH R G B", such as "ld +0.01 -0.02 0".</summary>
    public IReadOnlyList<string?>? Factors { get; init; }

    /// <summary>Last day of the strips, such as 2027-06-30.</summary>
    public string? Expires { get; init; }

    /// <summary>How the sheet in the box says to store the strips.</summary>
    public string? Storage { get; init; }

    public string? Note { get; init; }

    /// <exception cref="BenchException">The day is none.</exception>
    public LotRequest Request() => new(Code, Process)
    {
        Layout = Layout,
        Factors = Given.Items(Factors, "factors"),
        Expires = Expires is { } day ? GivenDay.Of(day) : null,
        StorageRule = Storage,
        Note = Note,
    };
}

internal sealed record AddedLotDocument
{
    public required LotDocument Lot { get; init; }

    /// <summary>What of the process cannot be taken of strips of its layout; null where all can.</summary>
    public required string? Lacking { get; init; }
}

/// <summary>The densities of a reference strip as somebody read them off.</summary>
internal sealed record ReferenceBody
{
    public static ReferenceBody Example { get; } = new()
    {
        Values =
        [
            "dmin 0.26 0.62 0.80", "ld 0.46 0.84 1.04", "hd 0.95 1.45 1.81", "dmax 1.86 2.36 2.84", "yellow 0.36 0.66 1.59",
        ],
        Reads = 3,
    };

    /// <summary>Densities a patch each, "PATCH R G B", in the channels that the process needs; a patch may stand more than once.</summary>
    public required IReadOnlyList<string?> Values { get; init; }

    /// <summary>Why; kept with it.</summary>
    public string? Reason { get; init; }

    /// <summary>How many re-placed reads stand behind each value.</summary>
    public int? Reads { get; init; }

    /// <summary>The instrument that they were read with, by name.</summary>
    public string? Instrument { get; init; }

    /// <summary>For values of the maker's list: their standard uncertainty in density, half of a ± at 95 %.</summary>
    public double? ListUncertainty { get; init; }

    /// <summary>What is said of how the values came about; null for nothing.</summary>
    /// <exception cref="BenchException">It contradicts itself, or there is no such instrument.</exception>
    public async Task<ReferenceOrigin?> OriginAsync(InstrumentBook instruments, CancellationToken cancellationToken)
    {
        switch (ListUncertainty, Reads, Instrument)
        {
            case (null, null, null):
                return null;
            case ({ } uncertainty, null, null):
                return ReferenceOrigin.FromList(uncertainty);
            case (null, var reads, null):
                return ReferenceOrigin.Read(reads ?? 1);
            case (null, var reads, { } instrument):
                var (name, profile) = await instruments.NamedAsync(new InstrumentChoice(instrument), cancellationToken);
                return ReferenceOrigin.Read(reads ?? 1, profile.Name, name);
            default:
                throw new BenchException("Values of the maker's list were read by nobody: leave reads and instrument out.");
        }
    }
}

/// <summary>The strips that make a reference.</summary>
internal sealed record BaselineBody
{
    public static BaselineBody Example { get; } = new() { Strips = ["3f2a", "77b0", "9c41", "12de", "5e0b"] };

    /// <summary>Their ids or parts of them; the last five that were read for it when not given.</summary>
    public IReadOnlyList<string?>? Strips { get; init; }
}

internal sealed record BaselineDocument
{
    public required LotAimsDocument Lot { get; init; }
    public required IEnumerable<Guid> Strips { get; init; }

    /// <summary>What is not as the practice wants it; null when all is.</summary>
    public required string? Warning { get; init; }
}
