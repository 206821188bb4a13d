using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Acquire.Analysis.Plausibility;

namespace Acquire.Bench.Sessions;

/// <summary>The user's decisions as the journal has them, such as <c>{"do":"leave_out_read","reason":"dust"}</c>.</summary>
internal static class DecisionJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        RespectRequiredConstructorParameters = true,
        RespectNullableAnnotations = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower) },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { NameRemedies } },
    };

    public static string Of(BenchCommand decision) => JsonSerializer.Serialize(decision, Options);

    /// <exception cref="BenchException">This version knows no such decision, so the session cannot be rebuilt by it.</exception>
    public static BenchCommand Parse(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<BenchCommand>(json, Options) ?? throw Unknown(json, null);
        }
        catch (Exception e) when (e is JsonException or NotSupportedException)
        {
            throw Unknown(json, e);
        }
    }

    /// <summary>The words for remedies; one that is in a journal somewhere never changes.</summary>
    private static void NameRemedies(JsonTypeInfo type)
    {
        if (type.Type != typeof(Remedy))
        {
            return;
        }

        type.PolymorphismOptions = new JsonPolymorphismOptions
        {
            TypeDiscriminatorPropertyName = "do",
            DerivedTypes =
            {
                new JsonDerivedType(typeof(Remedy.ReorderPatches), "reorder_patches"),
                new JsonDerivedType(typeof(Remedy.ExchangeChannels), "exchange_channels"),
                new JsonDerivedType(typeof(Remedy.ReadPatchAgain), "read_patch_again"),
                new JsonDerivedType(typeof(Remedy.LeaveOutRead), "leave_out_read"),
                new JsonDerivedType(typeof(Remedy.CheckZero), "check_zero"),
                new JsonDerivedType(typeof(Remedy.CheckSlope), "check_slope"),
                new JsonDerivedType(typeof(Remedy.WaitAndDry), "wait_and_dry"),
                new JsonDerivedType(typeof(Remedy.ChooseLot), "choose_lot"),
                new JsonDerivedType(typeof(Remedy.SwitchInstrument), "switch_instrument"),
                new JsonDerivedType(typeof(Remedy.None), "look"),
            },
        };
    }

    private static BenchException Unknown(string json, Exception? inner) => new(
        $"The session's journal has a decision that this version of the program does not know: {json}. Go on with the version that wrote it.", inner);
}
