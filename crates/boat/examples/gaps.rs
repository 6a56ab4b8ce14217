use std::collections::BTreeMap;
fn main() {
    for name in ["corncrake","lapwing","sandgrouse"] {
    let read=|f:&str| std::fs::read_to_string(format!("boats/{name}/{f}")).ok();
    let texts=boat::folder::BoatTexts{toml:read("boat.toml").unwrap(),offsets:read("offsets.csv").unwrap(),marks:None,boards:None,nails:None};
    let input=boat::folder::read(&texts).unwrap();
    let p=boat::plan::plan(&input).unwrap();
    let o=boat::ink::closed(&p.strakes,&p.sections,&p.spec);
    println!("{name} faces {} deck {}",o.faces.len(),o.deck);
    let mut e:BTreeMap<[[u64;3];2],i32>=BTreeMap::new();
    let key=|p:&boat::geom::Point|[p.x,p.y,p.z].map(|v|(v+0.0).to_bits());
    for t in &o.faces { for i in 0..3 { let (a,b)=(key(&t[i]),key(&t[(i+1)%3])); if a<b {*e.entry([a,b]).or_default()+=1} else {*e.entry([b,a]).or_default()-=1} } }
    let mut n=0;
    for ([a,b],c) in e { if c!=0 { let f=|k:[u64;3]|k.map(f64::from_bits); n+=1; if n<40 {println!("{c} {:?} {:?}",f(a),f(b));} } }
    println!("{n}");
    }
}
