using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Acquire.Tests.House;

/// <summary>
/// Which namespace of one built assembly uses which other of its own: by base types, members' signatures, attributes and method bodies.
/// A <c>using</c> line proves nothing where usings are global. A constant or a literal of an enumeration leaves no trace in a body.
/// </summary>
internal sealed class NamespaceGraph
{
    private readonly SortedDictionary<string, SortedDictionary<string, string>> _edges = new(StringComparer.Ordinal);

    private NamespaceGraph()
    {
    }

    /// <summary>Reads an assembly's own types whose namespace begins with <paramref name="prefix"/>.</summary>
    public static NamespaceGraph Of(string assemblyPath, string prefix)
    {
        var graph = new NamespaceGraph();
        using var assembly = AssemblyDefinition.ReadAssembly(assemblyPath);
        bool IsOwn(TypeReference type) => type.Scope == assembly.MainModule && IsUnder(type.Namespace, prefix);
        foreach (var type in assembly.MainModule.GetTypes().Where(t => IsOwn(Outermost(t))))
        {
            foreach (var used in UsedBy(type).SelectMany(Parts).Select(Outermost).Where(IsOwn))
            {
                graph.Add(Outermost(type), used);
            }
        }

        return graph;
    }

    /// <summary>Sets of namespaces that reach one another (strongly connected), in order of name.</summary>
    public IReadOnlyList<string[]> Circles()
    {
        var reach = _edges.Keys.ToDictionary(n => n, Reach);
        return
        [
            .. _edges.Keys
                .Select(n =>
                    reach[n].Where(m => reach.TryGetValue(m, out var back) && back.Contains(n)).Order(StringComparer.Ordinal).ToArray())
                .Where(circle => circle.Length > 1)
                .DistinctBy(circle => circle[0]),
        ];
    }

    /// <summary>Each edge inside a circle with the first pair of types that makes it.</summary>
    public string Describe(string[] circle)
    {
        var lines =
            from source in circle
            from target in _edges[source]
            where circle.Contains(target.Key)
            select $"  {source} -> {target.Key}: {target.Value}";
        return $"{circle.Length} namespaces in a circle:\n{string.Join('\n', lines)}";
    }

    private static bool IsUnder(string name, string prefix) => name == prefix || name.StartsWith(prefix + ".", StringComparison.Ordinal);

    private void Add(TypeReference from, TypeReference to)
    {
        if (from.Namespace == to.Namespace)
        {
            return;
        }

        if (!_edges.TryGetValue(from.Namespace, out var targets))
        {
            _edges[from.Namespace] = targets = new(StringComparer.Ordinal);
        }

        targets.TryAdd(to.Namespace, $"{from.Name} uses {to.Name}");
    }

    private HashSet<string> Reach(string from)
    {
        HashSet<string> seen = [];
        Stack<string> open = new([from]);
        while (open.TryPop(out var name))
        {
            foreach (var next in _edges.TryGetValue(name, out var targets) ? targets.Keys.Where(seen.Add) : [])
            {
                open.Push(next);
            }
        }

        return seen;
    }

    private static TypeReference Outermost(TypeReference type) => type.DeclaringType is { } outer ? Outermost(outer) : type;

    private static IEnumerable<TypeReference?> UsedBy(TypeDefinition type) =>
    [
        type.BaseType,
        .. type.Interfaces.Select(i => i.InterfaceType),
        .. type.CustomAttributes.Select(a => a.AttributeType),
        .. type.GenericParameters.SelectMany(p => p.Constraints).Select(c => c.ConstraintType),
        .. type.Fields.Select(f => f.FieldType),
        .. type.Methods.SelectMany(UsedBy),
    ];

    private static IEnumerable<TypeReference?> UsedBy(MethodDefinition method) =>
    [
        .. InSignature(method),
        .. method.GenericParameters.SelectMany(p => p.Constraints).Select(c => c.ConstraintType),
        .. method.HasBody ? method.Body.Variables.Select(v => v.VariableType) : [],
        .. method.HasBody ? method.Body.ExceptionHandlers.Select(h => h.CatchType) : [],
        .. method.HasBody ? method.Body.Instructions.SelectMany(UsedBy) : [],
    ];

    private static IEnumerable<TypeReference?> UsedBy(Instruction instruction) => instruction.Operand switch
    {
        TypeReference type => [type],
        GenericInstanceMethod generic => [.. InSignature(generic), .. generic.GenericArguments],
        MethodReference method => InSignature(method),
        FieldReference field => [field.DeclaringType, field.FieldType],
        _ => [],
    };

    private static IEnumerable<TypeReference> InSignature(MethodReference method) =>
        [method.DeclaringType, method.ReturnType, .. method.Parameters.Select(p => p.ParameterType)];

    /// <summary>A type taken apart: <c>List&lt;A[]&gt;</c> is a list and an A.</summary>
    private static IEnumerable<TypeReference> Parts(TypeReference? type) => type switch
    {
        null or GenericParameter => [],
        GenericInstanceType generic => [generic.ElementType, .. generic.GenericArguments.SelectMany(Parts)],
        TypeSpecification wrapped => Parts(wrapped.ElementType),
        _ => [type],
    };
}
